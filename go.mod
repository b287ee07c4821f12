module stakerow

go 1.26.3

require (
	codeberg.org/go-pdf/fpdf v0.12.0 // indirect
	github.com/fogleman/gg v1.3.0 // indirect
	github.com/goccy/go-yaml v1.19.2 // indirect
	github.com/golang/freetype v0.0.0-20170609003504-e2365dfdc4a0 // indirect
	github.com/paulmach/orb v0.14.0 // indirect
	github.com/peterstace/simplefeatures v0.50.0 // indirect
	github.com/spf13/pflag v1.1.0 // indirect
	github.com/stretchr/testify v1.12.1 // indirect
	github.com/twpayne/go-geom v1.7.0 // indirect
	github.com/twpayne/go-kml/v3 v3.6.0 // indirect
	go.mongodb.org/mongo-driver/v2 v2.5.0 // indirect
	go.yaml.in/yaml/v3 v3.0.5 // indirect
	golang.org/x/image v0.47.0 // indirect
	golang.org/x/text v0.43.0 // indirect
	gonum.org/v1/gonum v0.17.0 // indirect
)
