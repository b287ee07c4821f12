package cli_test

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"stakerow/plan"
	"stakerow/render"
	"stakerow/render/png"
	"stakerow/survey/ground"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The picture is measured as a reader with a scale would: the stake layer
// alone is painted, its symbols are found by their pixels, and their places
// must be the plan's within one pixel at the drawn scale.
func TestStakesStandWhereThePictureShowsThem(t *testing.T) {
	const dpi = 300
	for _, name := range sampleNames(t) {
		t.Run(name, func(t *testing.T) {
			source := filepath.Join(planSample(t, name), "plan.json")
			p := readPlan(t, source)
			paper := p.Sheet.Paper
			if len(p.Stakes) > crowdedStakes {
				paper = "a1" // on its own sheet symbols touch
			}
			p.Sheet.Paper = paper
			scale := drawnScale(t, p)
			p.Sheet.Layers = []string{"stakes"}
			pages, err := render.PlotPlan(p)
			require.NoError(t, err)
			var out bytes.Buffer
			require.NoError(t, png.Write(&out, pages[0], png.Options{DPI: dpi}))
			assertPHYs(t, out.Bytes(), 11811) // 300 / 0.0254 to the nearest whole number, PNG specification 11.3.5.3
			spots := symbols(decode(t, out.Bytes()))
			require.Equal(t, len(p.Stakes), len(spots), "a symbol for each stake, none touching another")
			onGround := make([][2]float64, len(p.Stakes))
			for i, s := range p.Stakes {
				onGround[i] = inPixels(s.At, scale, dpi)
			}
			assertSamePlaces(t, onGround, spots)
		})
	}
}

// crowdedStakes is how many stakes a small sheet shows apart.
const crowdedStakes = 100

func readPlan(t *testing.T, path string) plan.Plan {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	p, err := plan.Read("plan.json", data)
	require.NoError(t, err)
	return p
}

func inPixels(p ground.Point, scale float64, dpi float64) [2]float64 {
	const inch = 0.0254
	k := dpi / inch / scale
	return [2]float64{p.E * k, -p.N * k}
}

// symbols finds the connected dark shapes of a picture (a pixel and its eight
// neighbours) and returns the middle of each one's bounds.
func symbols(img image.Image) [][2]float64 {
	b := img.Bounds()
	dark := darkness(img)
	seen := make([]bool, b.Dx()*b.Dy())
	var out [][2]float64
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if seen[y*b.Dx()+x] || !dark(x, y) {
				continue
			}
			out = append(out, middleOf(x, y, b, dark, seen))
		}
	}
	return out
}

// darkness tells the dark pixels of a picture: of a paletted one, from its
// palette once.
func darkness(img image.Image) func(x, y int) bool {
	isDark := func(c color.Color) bool {
		r, g, b, _ := c.RGBA()
		return r+g+b < 3*0xc000
	}
	p, ok := img.(*image.Paletted)
	if !ok {
		return func(x, y int) bool { return isDark(img.At(x, y)) }
	}
	var dark [256]bool
	for i, c := range p.Palette {
		dark[i] = isDark(c)
	}
	return func(x, y int) bool { return dark[p.Pix[p.PixOffset(x, y)]] }
}

func middleOf(x, y int, b image.Rectangle, dark func(x, y int) bool, seen []bool) [2]float64 {
	stack := [][2]int{{x, y}}
	seen[y*b.Dx()+x] = true
	least, most := [2]int{x, y}, [2]int{x, y}
	for len(stack) > 0 {
		at := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for i := range 2 {
			least[i], most[i] = min(least[i], at[i]), max(most[i], at[i])
		}
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				nx, ny := at[0]+dx, at[1]+dy
				if !(image.Pt(nx, ny).In(b)) || seen[ny*b.Dx()+nx] || !dark(nx, ny) {
					continue
				}
				seen[ny*b.Dx()+nx] = true
				stack = append(stack, [2]int{nx, ny})
			}
		}
	}
	return [2]float64{float64(least[0]+most[0]+1) / 2, float64(least[1]+most[1]+1) / 2}
}

// assertSamePlaces matches each symbol to the stake nearest to it once both
// sets are laid middle on middle, in each of the two turns that a sheet takes.
func assertSamePlaces(t *testing.T, want, got [][2]float64) {
	t.Helper()
	worst := math.Inf(1)
	for _, turned := range []bool{false, true} {
		worst = math.Min(worst, worstMismatch(centred(turn(want, turned)), centred(got)))
	}
	// One pixel each way: the middle of a symbol's bounds is known to half a
	// pixel, and so is the middle of all of them.
	assert.LessOrEqual(t, worst, 1.0, "pixels between a symbol and its stake")
}

func turn(pts [][2]float64, turned bool) [][2]float64 {
	out := make([][2]float64, len(pts))
	for i, p := range pts {
		out[i] = p
		if turned {
			out[i] = [2]float64{-p[1], p[0]}
		}
	}
	return out
}

func centred(pts [][2]float64) [][2]float64 {
	var sum [2]float64
	for _, p := range pts {
		sum[0] += p[0]
		sum[1] += p[1]
	}
	n := float64(len(pts))
	out := make([][2]float64, len(pts))
	for i, p := range pts {
		out[i] = [2]float64{p[0] - sum[0]/n, p[1] - sum[1]/n}
	}
	return out
}

func worstMismatch(want, got [][2]float64) float64 {
	worst := 0.0
	for _, p := range want {
		best := math.Inf(1)
		for _, q := range got {
			best = math.Min(best, math.Max(math.Abs(p[0]-q[0]), math.Abs(p[1]-q[1])))
		}
		worst = math.Max(worst, best)
	}
	return worst
}

func assertPHYs(t *testing.T, data []byte, want uint32) {
	t.Helper()
	// The chunk follows the header: 8 bytes of signature, 25 of IHDR.
	chunk := data[33:]
	require.Equal(t, "pHYs", string(chunk[4:8]))
	at := func(i int) uint32 {
		return uint32(chunk[i])<<24 | uint32(chunk[i+1])<<16 | uint32(chunk[i+2])<<8 | uint32(chunk[i+3])
	}
	assert.Equal(t, want, at(8))
	assert.Equal(t, want, at(12))
	assert.Equal(t, byte(1), chunk[16], "the unit is the metre")
}

var writtenScale = regexp.MustCompile(`1:(\d+)`)

// drawnScale reads the scale off the sheet's words, as a reader would.
func drawnScale(t *testing.T, p plan.Plan) float64 {
	t.Helper()
	pages, err := render.PlotPlan(p)
	require.NoError(t, err)
	for _, op := range pages[0].Ops {
		if op.Text == nil {
			continue
		}
		if found := writtenScale.FindStringSubmatch(op.Text.S); found != nil {
			n, err := strconv.ParseFloat(found[1], 64)
			require.NoError(t, err)
			return n
		}
	}
	require.Fail(t, "the sheet states its scale as 1:n")
	return 0
}
