package cli

// runCheck prints the findings of a job's plan and writes nothing.
func runCheck(c call) (int, error) {
	path, err := c.oneArg("job")
	if err != nil {
		return 0, err
	}
	in, err := load(path, 0, true)
	if err != nil {
		return 0, err
	}
	if in.since, err = sincePlan(c); err != nil {
		return 0, err
	}
	p, _, err := planned(in)
	if err != nil {
		return 0, err
	}
	all := allFindings(p)
	if c.wantsJSON() {
		data, err := printJSON(all)
		if err != nil {
			return 0, err
		}
		if _, err := c.Out.Write(data); err != nil {
			return 0, err
		}
		return codeFor(all), nil
	}
	printFindings(c.Out, all)
	return codeFor(all), nil
}
