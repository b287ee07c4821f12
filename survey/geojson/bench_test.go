package geojson

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"stakerow/survey/measure"
)

// shore is a lot of n corners, none of them to be folded: a jagged circle.
func shore(n int) []byte {
	var b strings.Builder
	for i := range n + 1 {
		s, c := math.Sincos(2 * math.Pi * float64(i%n) / float64(n))
		r := 0.01 + 0.0002*float64(i%n%2)
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "[%.8f,%.8f]", -75+r*c, 40+r*s)
	}
	return []byte(polygon(b.String()))
}

// BenchmarkRead200000 reads a lot of 200,000 vertices; beside it, what
// encoding/json needs for the same bytes into orb's types. Read is to take no
// more than three times as long.
func BenchmarkRead200000(b *testing.B) {
	for name, data := range map[string][]byte{
		"jagged": shore(200_000),
		"round":  []byte(polygon(circleText(200_000, 9))),
	} {
		b.Run(name+"/Read", func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				if _, err := Read("f", data, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(name+"/encoding-json into orb", func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				var g struct {
					Type        string
					Coordinates orb.Polygon
				}
				if err := json.Unmarshal(data, &g); err != nil || len(g.Coordinates[0]) != 200_001 {
					b.Fatal(err)
				}
			}
		})
	}
}

func TestReadKeepsEveryCornerOfALargeLot(t *testing.T) {
	n, err := Read("f", shore(5000), Options{})
	require.NoError(t, err)
	require.Len(t, n.Readings, 5000)
	require.Empty(t, n.LotArcs)
}

// Whatever the bytes, Read ends without panic; what it accepts has a name and
// one finite coordinate for every vertex.
func FuzzRead(f *testing.F) {
	f.Add([]byte(yard), int64(500), "Lot 12")
	f.Add([]byte(polygon(square)), int64(0), "")
	f.Add([]byte(polygon(circleText(60, 6))), int64(1640), "")
	f.Add([]byte(withFeature(`"role":"tree","girth":"3 ft","name":"a b"`, spot)), int64(0), "L")
	f.Add([]byte(withFeature(`"role":"point","name":"7","found":"pin"`, `{"type":"MultiPoint","coordinates":[[0,0,1e2]]}`)), int64(-30), "")
	f.Add([]byte("\xef\xbb\xbf"+polygon(`[179.9,0],[-179.9,0],[180,0.1],[179.9,0]`)), int64(0), "")
	f.Fuzz(func(t *testing.T, data []byte, height int64, lot string) {
		n, err := Read("f", data, Options{GroundHeight: measure.Length(height%9000) * measure.Metre, LotName: lot, Units: measure.Metres})
		if err != nil {
			require.NotEmpty(t, err.Error())
			require.Empty(t, n.Readings)
			return
		}
		known := map[string]bool{}
		for _, r := range n.Readings {
			require.True(t, r.At.Finite())
			require.Positive(t, r.Cov.EE)
			require.False(t, known[r.Points[0]], "%q twice", r.Points[0])
			known[r.Points[0]] = true
			require.Positive(t, r.Pos.Line)
			require.LessOrEqual(t, r.Pos.Line, strings.Count(string(data), "\n")+1)
		}
		for _, f := range n.Features {
			require.NotEmpty(t, f.Name)
			require.NotEmpty(t, f.Vertices)
			for _, v := range f.Vertices {
				require.True(t, known[v], v)
			}
		}
		for _, a := range n.LotArcs {
			require.True(t, known[a.From] && known[a.To])
			require.Positive(t, a.Radius)
		}
	})
}

// The quick way to read a number gives what strconv gives.
func TestDegreesOf(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		text := strconv.FormatFloat((rnd.Float64()-0.5)*math.Pow10(rnd.IntN(4)), 'f', rnd.IntN(16), 64)
		want, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		got, places, ok := degreesOf(text)
		require.True(t, ok)
		require.Equal(t, want, got, text)
		_, decimals, _ := strings.Cut(text, ".")
		require.EqualValues(t, len(decimals), places, text)
	}
	for text, want := range map[string]int8{"1": 0, "-1.50": 2, "1.5e1": 0, "1E-7": 7, "15e3": -3, "1e-300": 17, "0.12345678901234567890": 17} {
		_, places, ok := degreesOf(text)
		require.True(t, ok, text)
		require.Equal(t, want, places, text)
	}
	for _, text := range []string{"1e999", "-", "+1", "1.2.3", "--1", "e"} {
		_, _, ok := degreesOf(text)
		require.Equal(t, text == "1.2.3" || text == "+1", ok, "%s: JSON's grammar is checked before", text)
	}
}
