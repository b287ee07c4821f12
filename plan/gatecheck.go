package plan

import (
	"fmt"

	"stakerow/survey"
	"stakerow/survey/measure"
)

// widestSingleLeaf is the width past which a single leaf sags (common practice).
const widestSingleLeaf = 4 * measure.Foot

// checkGate tells what is wrong with a gate that can stand.
func (p *planner) checkGate(l *laidLine, gi int) {
	g := l.gates[gi]
	p.checkSwing(l, g)
	if g.leafWidth() <= 0 {
		p.aboutGate(l, g, survey.Error, "gate-no-leaf",
			fmt.Sprintf("the gaps of gate %s leave nothing for a leaf in an opening of %s.", g.spec.Name, p.say.length(g.clear)),
			"Make the opening wider or the gaps smaller.", g.leafWidth(), 0)
		return
	}
	p.checkLatchGap(l, g)
	p.checkLeafSize(l, g)
	p.checkStrikes(l, gi)
}

// aboutGate adds a finding at a gate.
func (p *planner) aboutGate(l *laidLine, g placedGate, s survey.Severity, rule, text, do string, value, limit measure.Length) {
	at := l.gateCentre(g)
	p.tellAt(l, survey.Finding{Severity: s, Rule: rule, Text: text, Do: do, At: &at,
		Value: value.Metres(), Limit: limit.Metres(), Source: commonPractice, Pos: g.spec.Pos}, g.m[0], g.m[1])
}

// checkLatchGap compares the gap that a swinging edge passes with what it needs:
// the latch gap, or between two leaves the middle gap.
func (p *planner) checkLatchGap(l *laidLine, g placedGate) {
	gap, name := g.spec.LatchGap, "latch gap"
	if g.doubleLeaf() {
		gap, name = g.spec.MiddleGap, "middle gap"
	}
	need := g.latchNeed()
	if gap >= need {
		return
	}
	is, least := p.spec.Units.Apart(gap, p.neededGap(need), p.say.small)
	p.aboutGate(l, g, survey.Warning, "latch-gap",
		fmt.Sprintf("the %s of gate %s is %s; a leaf of %s swinging on its pin needs %s.", name, g.spec.Name, is, p.say.length(g.leafWidth()), least),
		fmt.Sprintf("Make the %s at least %s.", name, least), gap, need)
}

// neededGap is a gap rounded up to what is printed.
func (p *planner) neededGap(l measure.Length) measure.Length {
	step := ripStepFeet
	if p.spec.Units == measure.Metres {
		step = ripStepMetres
	}
	return ceilDiv(l, step) * step
}

func (p *planner) checkLeafSize(l *laidLine, g placedGate) {
	w := g.leafWidth()
	if h := l.build.Height; h > 0 && w > h {
		wide, tall := p.spec.Units.Apart(w, h, p.say.length)
		p.aboutGate(l, g, survey.Warning, "leaf-wider-than-tall",
			fmt.Sprintf("a leaf of gate %s is %s wide and %s tall: wider than tall it sags.", g.spec.Name, wide, tall),
			"Use two leaves, or a steel frame.", w, h)
		return
	}
	if !g.doubleLeaf() && w > widestSingleLeaf {
		wide, most := p.spec.Units.Apart(w, widestSingleLeaf, p.say.length)
		p.aboutGate(l, g, survey.Note, "leaf-wide",
			fmt.Sprintf("the single leaf of gate %s is %s wide; past %s one leaf sags.", g.spec.Name, wide, most),
			"Use two leaves.", w, widestSingleLeaf)
	}
}

// checkSwing tells where the words of the job do not settle which way a gate
// opens.
func (p *planner) checkSwing(l *laidLine, g placedGate) {
	left, settled := l.opensLeft(g)
	if settled {
		return
	}
	side := "right"
	if left {
		side = "left"
	}
	p.aboutGate(l, g, survey.Note, "gate-swing-unsettled",
		fmt.Sprintf("gate %s stands on a leg that follows no lot line, where in and out mean nothing: it is drawn opening to the %s in walking order.", g.spec.Name, side),
		"Write swing: left or swing: right.", 0, 0)
}

// checkStrikes tells what a gate's leaves strike, other gates' included.
func (p *planner) checkStrikes(l *laidLine, gi int) {
	g := l.gates[gi]
	for _, s := range p.strikes(l, g) {
		do := "Hang the leaf on the other post, let it open the other way, or move the gate."
		if s.rule == "gate-swing-lot-line" {
			do = "Let the gate open inwards, or move the fence in."
		}
		p.aboutGate(l, g, survey.Warning, s.rule, fmt.Sprintf("a leaf of gate %s swings over %s.", g.spec.Name, s.what), do, 0, 0)
	}
	for _, other := range p.strikesGates(l, gi) {
		p.aboutGate(l, g, survey.Warning, "gate-swing-gate",
			fmt.Sprintf("the leaves of gate %s and gate %s swing into each other.", g.spec.Name, other),
			"Let one of them open the other way, or hang its leaf on the other post.", 0, 0)
	}
}

// strikesGates lists the gates after gate gi, in the order of the plan, whose
// leaves sweep the same ground.
func (p *planner) strikesGates(l *laidLine, gi int) []string {
	var out []string
	mine := l.gateSweeps(l.gates[gi])
	after := false
	for li := range p.lines {
		m := &p.lines[li]
		for i := range m.gates {
			if m.fence.Name == l.fence.Name && i == gi {
				after = true
				continue
			}
			if after && sweepsMeet(mine, m.gateSweeps(m.gates[i])) {
				out = append(out, m.gates[i].spec.Name)
			}
		}
	}
	return out
}
