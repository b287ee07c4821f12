package survey

// Frame ties the ground to the earth. A site without longitude and latitude
// has Geographic false and an Origin that means nothing.
type Frame struct {
	Geographic   bool
	Lon, Lat     float64 // of the origin, degrees, WGS84
	GroundHeight float64 // metres above the ellipsoid at which distances hold
	North        string  // "true", "deed basis", "base line" or "assumed": what north the bearings count from
}
