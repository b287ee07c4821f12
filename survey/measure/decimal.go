package measure

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
)

// AppendDecimal appends v to b with up to so many decimals, as the JSON forms
// write numbers: never with an exponent, without zeros at the end, without a
// negative zero. It errs on what is no number.
func AppendDecimal(b []byte, v float64, places int) ([]byte, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("%v cannot be written as a number", v)
	}
	from := len(b)
	b = strconv.AppendFloat(b, v, 'f', places, 64)
	if bytes.IndexByte(b[from:], '.') >= 0 {
		b = bytes.TrimSuffix(bytes.TrimRight(b, "0"), []byte{'.'})
	}
	if string(b[from:]) == "-0" {
		b = append(b[:from], '0')
	}
	return b, nil
}
