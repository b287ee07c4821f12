package render

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"stakerow/plan"
	"stakerow/survey"
	"stakerow/survey/ground"
	"stakerow/survey/measure"

	"github.com/stretchr/testify/require"
)

// combPlan is a fence of n stakes in long teeth, ten bays a run, round a field
// as wide as it is high:
//
//	┌┐┌┐┌┐
//	┘└┘└┘└   every tooth 100 m high and 5 m wide
func combPlan(n int, paper string) plan.Plan {
	const high, wide, bay = 100.0, 5.0, 2.5
	p := plan.Plan{Title: "Comb of a test", Units: measure.Metres, Mark: 5 * measure.Millimetre, Sheet: plan.Sheet{Paper: paper, DPI: 300}}
	p.Builds = []plan.Build{{Name: "board"}}
	f := plan.Fence{Name: "comb", Build: "board"}
	at, up := ground.Point{}, true
	m := 0.0
	add := func(kind plan.PostKind) {
		s := plan.Stake{Number: fmt.Sprint(len(p.Stakes) + 1), Kind: kind, State: "new", Fence: f.Name, M: measure.FromMetres(m), At: at}
		p.Stakes = append(p.Stakes, s)
	}
	leg := func(length float64, u ground.Vector) {
		from := plan.Vertex{At: at, M: measure.FromMetres(m)}
		bays := int(length / bay)
		r := plan.Run{Number: len(p.Runs) + 1, Fence: f.Name, From: p.Stakes[len(p.Stakes)-1].Number, FromM: from.M, Length: measure.FromMetres(length),
			Marks: int(length * 200), Layout: "even", Start: "from", Closing: bays, LeftToClose: measure.FromMetres(bay)}
		on := &p.Stakes[len(p.Stakes)-1].On
		*on = append(*on, plan.OnRun{Run: r.Number})
		for i := range bays {
			at, m = at.Add(u.Scale(bay)), m+bay
			kind := plan.PostLine
			if i+1 == bays {
				kind = plan.PostCorner
			}
			add(kind)
			s := &p.Stakes[len(p.Stakes)-1]
			s.On = []plan.OnRun{{Run: r.Number, Distance: measure.FromMetres(bay * float64(i+1))}}
			r.Bays = append(r.Bays, int(bay*200))
		}
		r.To, r.ToM = p.Stakes[len(p.Stakes)-1].Number, measure.FromMetres(m)
		p.Runs = append(p.Runs, r)
		f.Legs = append(f.Legs, plan.Leg{From: from, To: plan.Vertex{At: at, M: r.ToM}})
		f.Line = append(f.Line, from)
	}
	add(plan.PostEnd)
	for len(p.Stakes) < n {
		along := ground.Vector{N: 1}
		if !up {
			along.N = -1
		}
		leg(high, along)
		leg(wide, ground.Vector{E: 1})
		up = !up
	}
	f.Length = measure.FromMetres(m)
	f.Line = append(f.Line, plan.Vertex{At: at, M: f.Length})
	p.Fences = []plan.Fence{f}
	lot := []ground.Point{{E: -5, N: 105}, {E: at.E + 5, N: 105}, {E: at.E + 5, N: -5}, {E: -5, N: -5}}
	for i, c := range lot {
		p.Survey.Points = append(p.Survey.Points, survey.Point{Name: string(rune('A' + i)), At: c, Found: "pin"})
		p.Survey.Lot.Corners = append(p.Survey.Lot.Corners, string(rune('A'+i)))
		p.Survey.Lot.Sides = append(p.Survey.Lot.Sides, survey.Side{From: string(rune('A' + i)), To: string(rune('A' + (i+1)%4))})
	}
	for i := range p.Stakes {
		p.Stakes[i].Ties = []plan.Tie{{From: "A", Distance: measure.Metre}, {From: "B", Distance: measure.Metre}}
	}
	return p
}

// However many stakes, sheets are made, and every stake is told: on the set-out
// sheets in its row; on the plot plan by its number, in the list of those
// without room, or by the rule which line posts are numbered.
func TestFiveThousandStakes(t *testing.T) {
	p := combPlan(5000, "letter")
	pages, err := SetOut(p)
	require.NoError(t, err)
	require.Greater(t, len(pages), 100)
	told := map[string]bool{}
	for _, d := range pages {
		for _, text := range textsOf(d) {
			told[text.S] = true
		}
	}
	for _, st := range p.Stakes {
		require.True(t, told[st.Number], "stake %s is on no set-out sheet", st.Number)
	}
	for _, paper := range []string{"letter", "a1"} {
		p.Sheet.Paper = paper
		pages, err := PlotPlan(p)
		require.NoError(t, err)
		shown := map[string]bool{}
		list := ""
		for _, d := range pages {
			for _, op := range d.Ops {
				if op.Text != nil && op.Layer == layerLabels {
					shown[op.Text.S] = true
				} else if op.Text != nil && !strings.HasSuffix(op.Text.S, continued) && !strings.Contains(op.Text.S, "100 mm") && !strings.Contains(op.Text.S, "· sheet") {
					list += op.Text.S + " "
				}
			}
		}
		require.Contains(t, list, "line post is numbered")
		inList := stakesListed(list)
		for _, st := range p.Stakes {
			if st.Kind != plan.PostLine && !shown[st.Number] {
				require.True(t, inList[st.Number], "%s: stake %s is neither numbered nor listed", paper, st.Number)
			}
		}
	}
}

// stakesListed are the stakes that a list tells, alone or in a row of them.
func stakesListed(list string) map[string]bool {
	out := map[string]bool{}
	for _, m := range regexp.MustCompile(`stakes? (\d+)(?: to (\d+))?`).FindAllStringSubmatch(list, -1) {
		from, _ := strconv.Atoi(m[1])
		to := from
		if m[2] != "" {
			to, _ = strconv.Atoi(m[2])
		}
		for n := from; n <= to; n++ {
			out[strconv.Itoa(n)] = true
		}
	}
	return out
}

// Bars: none; near-linear in the stakes.
func BenchmarkFiveThousandStakes(b *testing.B) {
	for _, paper := range []string{"a1", "letter"} {
		p := combPlan(5000, paper)
		b.Run("plot plan, "+paper, func(b *testing.B) {
			for b.Loop() {
				_, err := PlotPlan(p)
				require.NoError(b, err)
			}
		})
		b.Run("set-out, "+paper, func(b *testing.B) {
			for b.Loop() {
				_, err := SetOut(p)
				require.NoError(b, err)
			}
		})
	}
}
