package measure

import (
	"fmt"
	"math/big"
	"strings"
)

// angleDecimals of a degree are 0.36 microarcseconds: enough to give every
// Angle its own number.
const angleDecimals = 10

// exactMetres is l in metres, exactly, without trailing zeros.
func (l Length) exactMetres() string {
	return trimmed(l.decimals(int64(Metre), 1, 9))
}

// trimmed drops the zeros that end a decimal fraction.
func trimmed(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// MarshalJSON gives exact decimal metres: 12.8905.
func (l Length) MarshalJSON() ([]byte, error) { return []byte(l.exactMetres()), nil }

// UnmarshalJSON reads decimal metres, to the nearest nanometre.
func (l *Length) UnmarshalJSON(data []byte) error {
	n, err := readDecimal(data, big.NewRat(int64(Metre), 1), "a length in metres")
	if err == nil {
		*l = Length(n)
	}
	return err
}

// MarshalJSON gives decimal degrees, which read back as the same angle.
func (a Angle) MarshalJSON() ([]byte, error) { return []byte(a.exactDegrees()), nil }

// UnmarshalJSON reads decimal degrees, to the nearest microarcsecond.
func (a *Angle) UnmarshalJSON(data []byte) error {
	n, err := readDecimal(data, big.NewRat(int64(Degree), 1), "an angle in degrees")
	if err == nil {
		*a = Angle(n)
	}
	return err
}

// MarshalJSON gives decimal degrees clockwise from north.
func (b Bearing) MarshalJSON() ([]byte, error) { return Angle(b).MarshalJSON() }

// UnmarshalJSON reads decimal degrees clockwise from north, from 0 to 360.
func (b *Bearing) UnmarshalJSON(data []byte) error {
	var a Angle
	if err := a.UnmarshalJSON(data); err != nil {
		return err
	}
	if a < 0 || a > Turn {
		return fmt.Errorf("%s is no bearing in degrees from 0 to 360", data)
	}
	*b = a.Bearing()
	return nil
}

func (a Angle) exactDegrees() string {
	return trimmed(new(big.Rat).SetFrac64(int64(a), int64(Degree)).FloatString(angleDecimals))
}

// readDecimal reads a JSON number without a power of ten, in the given scale.
func readDecimal(data []byte, scale *big.Rat, what string) (int64, error) {
	c := &scanner{s: string(data)}
	negative := c.take("-")
	n, ok := c.decimal()
	if !ok || !c.done() {
		return 0, fmt.Errorf("%.40q is not %s, in decimal digits", data, what)
	}
	v := new(big.Rat).Mul(n.value, scale)
	if negative {
		v.Neg(v)
	}
	i, ok := whole64(v)
	if !ok {
		return 0, fmt.Errorf("%.40s is too large for %s", data, what)
	}
	return i, nil
}
