package deed

func readProse(d *description, t text) {}
