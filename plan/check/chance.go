package check

import (
	"math"
	"slices"

	"stakerow/survey"
	"stakerow/survey/ground"
)

// quantile is the point of the standard normal distribution below which a
// share p of it lies, 0 < p < 1.
func quantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// below is the share of the standard normal distribution below z.
func below(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// bothBelow is the chance that two standard normal figures with correlation r
// are below h and k: Φ(h)Φ(k) and Plackett's integral over the correlation
// (1954, from memory), r = sin θ, by Simpson's rule.
func bothBelow(h, k, r float64) float64 {
	const steps = 200
	r = max(-1, min(1, r))
	top := math.Asin(r)
	slope := func(t float64) float64 {
		cos := math.Cos(t)
		if cos < 1e-9 {
			if h != math.Copysign(k, k*t) {
				return 0
			}
			return math.Exp(-h * h / 2)
		}
		return math.Exp(-(h*h - 2*h*k*math.Sin(t) + k*k) / (2 * cos * cos))
	}
	sum := slope(0) + slope(top)
	for i := 1; i < steps; i++ {
		sum += float64(2+2*(i%2)) * slope(top*float64(i)/steps)
	}
	return below(h)*below(k) + sum*top/steps/3/(2*math.Pi)
}

// deviation is how far one distance on the ground may differ from the plan: a
// sum of errors of the survey's points and of what the crew tapes and sets.
type deviation struct {
	points []pointShare
	work   []workShare
}

// pointShare is what the error of a point, in metres east and north, adds.
type pointShare struct {
	name string
	by   ground.Vector
}

// workShare is an error of the crew's, by its name, with its standard
// deviation in metres, and how much of it counts.
type workShare struct {
	what string
	by   float64
	sd   float64
}

func (d *deviation) point(name string, by ground.Vector) {
	d.points = append(d.points, pointShare{name, by})
}

// add adds k times another deviation.
func (d *deviation) add(e deviation, k float64) {
	for _, p := range e.points {
		d.point(p.name, p.by.Scale(k))
	}
	for _, w := range e.work {
		d.work = append(d.work, workShare{w.what, k * w.by, w.sd})
	}
}

// covariance of two deviations in m²: by the survey's joint covariance of its
// points, and by the errors of the crew that both share.
func covariance(site survey.Site, a, b deviation) float64 {
	sum := 0.0
	for _, p := range a.points {
		for _, q := range b.points {
			c := site.Cross(p.name, q.name)
			sum += p.by.E*(c[0][0]*q.by.E+c[0][1]*q.by.N) + p.by.N*(c[1][0]*q.by.E+c[1][1]*q.by.N)
		}
	}
	for _, v := range a.work {
		for _, w := range b.work {
			if v.what == w.what {
				sum += v.by * w.by * v.sd * v.sd
			}
		}
	}
	return sum
}

// sd is the standard deviation in metres.
func (d deviation) sd(site survey.Site) float64 {
	return math.Sqrt(max(covariance(site, d, d), 0))
}

// assumedShows is from how large a standard deviation on, in metres, a line
// that rests on points of an assumed accuracy is as good as that assumption: a
// tenth of the 0.6 m that is assumed. What is known better is known by tape.
const assumedShows = 0.06

// assumed reports whether it rests on an accuracy that was assumed.
func (d deviation) assumed(site survey.Site) bool {
	if (deviation{points: d.points}).sd(site) < assumedShows {
		return false
	}
	return slices.ContainsFunc(d.points, func(p pointShare) bool {
		q, ok := site.Point(p.name)
		return ok && q.Assumed
	})
}
