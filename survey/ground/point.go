package ground

// Point is a place on the ground, metres east and north of the site's origin.
type Point struct{ E, N float64 }

// Vector is a displacement on the ground in metres.
type Vector struct{ E, N float64 }

// Line is an open chain of points.
type Line []Point

// Ring is a closed outline; the first point is not repeated at the end.
type Ring []Point

// Arc is a circular arc from From to To about Center. Right means that it
// turns clockwise seen from above, as a deed's "curve to the right". Sweep is
// the central angle in radians, in (0, 2π).
type Arc struct {
	From, To, Center Point
	Radius, Sweep    float64
	Right            bool
}

// Covariance is the 2×2 covariance of a point in m².
type Covariance struct{ EE, EN, NN float64 }
