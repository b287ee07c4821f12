package plan

// keepOut lists what keeps posts out along a line.
func (p *planner) keepOut(l *laidLine) {}
