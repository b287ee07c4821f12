package geojson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"stakerow/internal/source"
)

// object is one JSON object of the document as far as GeoJSON gives it a
// meaning, before its type says which members count.
type object struct {
	pos                                           source.Pos
	typ                                           string
	typPos                                        source.Pos
	features                                      []object
	geometry                                      *object // nil where absent or null
	props                                         []property
	coords                                        *shape
	hasFeatures, hasGeometry, hasCoords, hasProps bool
}

// property is one entry of "properties". Exactly one of the kinds is set;
// text is the value as written for numbers and true or false.
type property struct {
	key  string
	pos  source.Pos // of the key
	at   source.Pos // of the value
	kind propertyKind
	text string
}

type propertyKind uint8

const (
	isString propertyKind = iota + 1
	isNumber
	isBool
	isNull
	isNested
)

// members are the names that RFC 7946 gives a meaning, at any level.
func members() []string {
	return []string{"type", "features", "geometry", "properties", "coordinates", "geometries", "crs", "bbox", "id"}
}

// What is said of a document that breaks off.
const (
	cutShort   = "the end of the file in the middle of the document"
	cutShortDo = "the file is cut short: export or copy it again"
)

// errStop ends the reading of a document that is not JSON; the complaint is
// already made.
var errStop = errors.New("stop")

// document reads the whole text as one object.
func (r *reader) document() (object, error) {
	r.dec = json.NewDecoder(bytes.NewReader(r.data))
	r.dec.UseNumber()
	start := r.ahead()
	if start < len(r.data) && r.data[start] != '{' {
		if r.data[start] == '[' {
			r.complain(r.pos(start), "a list, where a GeoJSON object is wanted", "wrap the features: {\"type\": \"FeatureCollection\", \"features\": […]}")
			return object{}, errStop
		}
		_, err := r.token()
		if err == nil {
			r.complain(r.pos(start), "a single value, where a GeoJSON object is wanted", "export the lot again, as GeoJSON in WGS84")
		}
		return object{}, errStop
	}
	o, err := r.object(0)
	if err != nil {
		return o, err
	}
	if end := r.ahead(); end < len(r.data) {
		r.complain(r.pos(end), "text after the end of the document", "one file holds one GeoJSON object: remove the rest")
	}
	return o, nil
}

// ahead is the offset of the next token.
func (r *reader) ahead() int {
	i := int(r.dec.InputOffset())
	for i < len(r.data) && strings.IndexByte(" \t\r\n,:", r.data[i]) >= 0 {
		i++
	}
	return i
}

// token reads one token; a complaint is made of any error.
func (r *reader) token() (json.Token, error) {
	start := r.ahead()
	tok, err := r.dec.Token()
	if err != nil {
		r.notJSON(start, err)
		return nil, errStop
	}
	return tok, nil
}

// skip reads over one value.
func (r *reader) skip() error {
	start := r.ahead()
	var raw json.RawMessage
	if err := r.dec.Decode(&raw); err != nil {
		r.notJSON(start, err)
		return errStop
	}
	return nil
}

// notJSON complains of text that breaks off or is no JSON, at or after start.
func (r *reader) notJSON(start int, err error) {
	var syntax *json.SyntaxError
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		r.complain(r.pos(len(r.data)), cutShort, cutShortDo)
	case strings.Contains(err.Error(), "max depth"):
		r.complain(r.pos(start), "values nested more than 10,000 deep", "the file is damaged: export it again")
	case errors.As(err, &syntax):
		at := max(start, int(syntax.Offset)-1)
		found, do := badWord(r.data[min(at, len(r.data)):])
		if found == "" {
			found, do = "no JSON: "+syntax.Error(), "mend the text here, or export the file again"
		}
		r.complain(r.pos(at), found, do)
	default:
		r.complain(r.pos(start), "no JSON: "+err.Error(), "export the file again")
	}
}

// badWord names what looks like a number to people and is none in JSON.
func badWord(rest []byte) (found, do string) {
	word := strings.ToLower(string(rest[:min(len(rest), 9)]))
	for _, w := range []string{"nan", "infinity", "-infinity", "inf", "-inf", "undefined", "none"} {
		if strings.HasPrefix(word, w) {
			return "«" + string(rest[:len(w)]) + "», where a number is wanted", "write a plain number, or take out what has none"
		}
	}
	return "", ""
}

// object reads one object: the document (depth 0), a feature or a geometry.
func (r *reader) object(depth int) (object, error) {
	o := object{pos: r.pos(r.ahead())}
	if _, err := r.token(); err != nil { // the brace, seen by the caller
		return o, err
	}
	seen := map[string]source.Pos{}
	for r.dec.More() {
		key, pos, err := r.key(seen)
		if err != nil {
			return o, err
		}
		if err := r.member(&o, key, pos, depth); err != nil {
			return o, err
		}
	}
	_, err := r.token()
	return o, err
}

// key reads a member's name and complains of one written twice.
func (r *reader) key(seen map[string]source.Pos) (string, source.Pos, error) {
	pos := r.pos(r.ahead())
	tok, err := r.token()
	if err != nil {
		return "", pos, err
	}
	key, ok := tok.(string)
	if !ok {
		r.complain(pos, "a member without a name", "mend the text here, or export the file again")
		return "", pos, errStop
	}
	if first, twice := seen[key]; twice {
		r.complain(pos, fmt.Sprintf("%s for the second time in one object, first at %d:%d", source.Quote(key), first.Line, first.Col), "keep one of them")
	}
	seen[key] = pos
	return key, pos, nil
}

// member reads one member of an object.
func (r *reader) member(o *object, key string, pos source.Pos, depth int) error {
	at := r.ahead()
	next := byte(0)
	if at < len(r.data) {
		next = r.data[at]
	}
	null := next == 'n'
	switch key {
	case "type":
		return r.typeMember(o, at, next)
	case "features":
		o.hasFeatures = true
		if next == '[' && depth == 0 {
			return r.featureList(o)
		}
		r.complain(r.pos(at), "\"features\" that is no list of the document", "features stand in one list, at the top of the document")
	case "geometry":
		o.hasGeometry = true
		if next == '{' && depth < 2 {
			g, err := r.object(2)
			o.geometry = &g
			return err
		}
		if !null {
			r.complain(r.pos(at), "\"geometry\" that is no object of a feature", "write {\"type\": …, \"coordinates\": …}")
		}
	case "properties":
		o.hasProps = true
		if next == '{' {
			return r.properties(o)
		}
		if !null {
			r.complain(r.pos(at), "\"properties\" that is no object", "write {\"role\": …, \"name\": …}")
		}
	case "coordinates":
		o.hasCoords = true
		s, err := r.coordinates(at)
		o.coords = s
		return err
	case "crs":
		return r.crs(pos)
	case "geometries", "bbox", "id":
	default:
		r.otherMember(key, pos)
	}
	return r.skip()
}

func (r *reader) typeMember(o *object, at int, next byte) error {
	if next != '"' {
		r.complain(r.pos(at), "a \"type\" that is no text", "write \"Feature\", \"FeatureCollection\" or a geometry's type")
		return r.skip()
	}
	o.typPos = r.pos(at)
	tok, err := r.token()
	if err == nil {
		o.typ, _ = tok.(string)
	}
	return err
}

// otherMember refuses a misspelt member and remarks on a foreign one.
func (r *reader) otherMember(key string, pos source.Pos) {
	for _, m := range members() {
		if strings.EqualFold(m, key) {
			r.complain(pos, source.Quote(key)+", where GeoJSON writes "+source.Quote(m), "write it in lower case")
			return
		}
	}
	r.unused.add("member", key, pos)
}

// featureList reads the features of a collection.
func (r *reader) featureList(o *object) error {
	if _, err := r.token(); err != nil {
		return err
	}
	for r.dec.More() {
		at := r.ahead()
		if at < len(r.data) && r.data[at] != '{' {
			r.complain(r.pos(at), "a feature that is no object", "write {\"type\": \"Feature\", …} or take it out")
			if err := r.skip(); err != nil {
				return err
			}
			continue
		}
		f, err := r.object(1)
		if err != nil {
			return err
		}
		o.features = append(o.features, f)
	}
	_, err := r.token()
	return err
}

// properties reads the entries of a feature's properties.
func (r *reader) properties(o *object) error {
	if _, err := r.token(); err != nil {
		return err
	}
	seen := map[string]source.Pos{}
	for r.dec.More() {
		key, pos, err := r.key(seen)
		if err != nil {
			return err
		}
		at := r.ahead()
		p := property{key: key, pos: pos, at: r.pos(at)}
		if at < len(r.data) && (r.data[at] == '{' || r.data[at] == '[') {
			p.kind = isNested
			err = r.skip()
		} else {
			err = r.scalar(&p)
		}
		if err != nil {
			return err
		}
		o.props = append(o.props, p)
	}
	_, err := r.token()
	return err
}

func (r *reader) scalar(p *property) error {
	tok, err := r.token()
	if err != nil {
		return err
	}
	switch v := tok.(type) {
	case string:
		p.kind, p.text = isString, v
	case json.Number:
		p.kind, p.text = isNumber, v.String()
	case bool:
		p.kind, p.text = isBool, fmt.Sprint(v)
	default:
		p.kind = isNull
	}
	return nil
}

// crs refuses a coordinate reference system other than longitude and latitude
// on WGS84, which RFC 7946 takes for granted.
func (r *reader) crs(pos source.Pos) error {
	start := r.ahead()
	var raw json.RawMessage
	if err := r.dec.Decode(&raw); err != nil {
		r.notJSON(start, err)
		return errStop
	}
	var crs struct {
		Properties struct {
			Name string `json:"name"`
		} `json:"properties"`
	}
	name := ""
	if json.Unmarshal(raw, &crs) == nil {
		name = crs.Properties.Name
	}
	for _, same := range []string{"CRS84", "EPSG::4326", "EPSG:4326"} {
		if strings.HasSuffix(name, same) {
			r.note(pos, "crs", "the crs member names longitude and latitude on WGS84, as every GeoJSON is; it is skipped", "")
			return nil
		}
	}
	if name == "" {
		name = "a coordinate system"
	} else {
		name = source.Quote(name)
	}
	r.complain(pos, "a crs member that names "+name+", where longitude and latitude on WGS84 are wanted", "export the file in WGS84 (EPSG:4326); RFC 7946 has no crs")
	return nil
}
