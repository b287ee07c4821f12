package survey

import (
	"math"

	"stakerow/survey/ground"
)

// The WGS84 ellipsoid: semi-major axis and inverse flattening (EPSG ellipsoid
// 7030; NGA.STND.0036, table 3.1).
const (
	wgs84A     = 6_378_137.0
	wgs84InvF  = 298.257_223_563
	wgs84F     = 1 / wgs84InvF
	wgs84E2    = wgs84F * (2 - wgs84F) // first eccentricity squared
	wgs84B     = wgs84A * (1 - wgs84F)
	wgs84E2Sec = wgs84E2 / ((1 - wgs84F) * (1 - wgs84F)) // second eccentricity squared
)

// FrameReach is how far from a frame's origin, in metres, its distances hold to
// 1 ppm: the plane touches at the origin and shortens a radial line by
// ρ²/2R², which is 1e-6 at 9 km.
const FrameReach = 9_000.0

// Frame ties the ground to the earth. A site without longitude and latitude
// has Geographic false and an Origin that means nothing.
type Frame struct {
	Geographic   bool
	Lon, Lat     float64 // of the origin, degrees, WGS84
	GroundHeight float64 // metres above the ellipsoid at which distances hold
	North        string  // "true", "deed basis", "base line" or "assumed": what north the bearings count from
}

// Ground is the ground point of a longitude and latitude in degrees: metres
// east and north in the plane that touches the ellipsoid's normal at the
// origin, with the point taken at the ground height, so that distances are
// those of a level tape there. EPSG method 9837, geographic/topocentric; its
// up axis is dropped. Differences of angles are formed first, so that nearby
// points lose no digits.
func (f Frame) Ground(lon, lat float64) ground.Point {
	phi, phi0 := inRadians(lat), inRadians(f.Lat)
	dphi, dlam := inRadians(lat-f.Lat), inRadians(lon-f.Lon)
	sin, cos := math.Sincos(phi)
	sin0, cos0 := math.Sincos(phi0)
	nu, nu0 := primeVertical(sin), primeVertical(sin0)
	half := math.Sin(dlam / 2)
	// sin φ cos φ0 − cos φ sin φ0 cos Δλ
	rise := math.Sin(dphi) + 2*cos*sin0*half*half
	return ground.Point{
		E: (nu + f.GroundHeight) * cos * math.Sin(dlam),
		N: (nu+f.GroundHeight)*rise + wgs84E2*(nu0*sin0-nu*sin)*cos0,
	}
}

// LonLat is the longitude and latitude in degrees of a ground point, the
// inverse of Ground: the point is put into space at the height above the plane
// where it stands at the ground height. Longitudes are in (−180, 180].
func (f Frame) LonLat(p ground.Point) (lon, lat float64) {
	up := 0.0
	for range 8 { // the plane leaves the ellipsoid slowly: two rounds do for a lot
		var h float64
		lon, lat, h = fromECEF(f.ecefOf(p, up))
		miss := f.GroundHeight - h
		up += miss
		if math.Abs(miss) < 1e-9 {
			break
		}
	}
	return lon, lat
}

// ecefOf is a topocentric point in geocentric metres.
func (f Frame) ecefOf(p ground.Point, up float64) [3]float64 {
	o := toECEF(f.Lon, f.Lat, f.GroundHeight)
	sinLam, cosLam := math.Sincos(inRadians(f.Lon))
	sinPhi, cosPhi := math.Sincos(inRadians(f.Lat))
	return [3]float64{
		o[0] - sinLam*p.E - sinPhi*cosLam*p.N + cosPhi*cosLam*up,
		o[1] + cosLam*p.E - sinPhi*sinLam*p.N + cosPhi*sinLam*up,
		o[2] + cosPhi*p.N + sinPhi*up,
	}
}

// toECEF is a place in geocentric metres (EPSG method 9602).
func toECEF(lon, lat, h float64) [3]float64 {
	sin, cos := math.Sincos(inRadians(lat))
	sinLam, cosLam := math.Sincos(inRadians(lon))
	nu := primeVertical(sin)
	return [3]float64{
		(nu + h) * cos * cosLam,
		(nu + h) * cos * sinLam,
		(nu*(1-wgs84E2) + h) * sin,
	}
}

// fromECEF is the longitude, latitude (degrees) and height of a geocentric
// point (EPSG method 9602, with Bowring's parametric latitude repeated until
// it stands still).
func fromECEF(x [3]float64) (lon, lat, h float64) {
	p := math.Hypot(x[0], x[1])
	beta := math.Atan2(x[2], (1-wgs84F)*p)
	var phi float64
	for range 4 {
		s, c := math.Sincos(beta)
		phi = math.Atan2(x[2]+wgs84E2Sec*wgs84B*s*s*s, p-wgs84E2*wgs84A*c*c*c)
		beta = math.Atan2((1-wgs84F)*math.Sin(phi), math.Cos(phi))
	}
	s, c := math.Sincos(phi)
	// p cos φ + z sin φ − a²/ν holds at the poles as well.
	h = p*c + x[2]*s - wgs84A*math.Sqrt(1-wgs84E2*s*s)
	return inDegrees(math.Atan2(x[1], x[0])), inDegrees(phi), h
}

// primeVertical is the ellipsoid's radius of curvature ν across the meridian.
func primeVertical(sinPhi float64) float64 {
	return wgs84A / math.Sqrt(1-wgs84E2*sinPhi*sinPhi)
}

func inRadians(d float64) float64 { return d * (math.Pi / 180) }
func inDegrees(r float64) float64 { return r * (180 / math.Pi) }
