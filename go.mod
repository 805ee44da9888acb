module ringwise

go 1.26.0

require (
	github.com/lucasb-eyer/go-colorful v1.4.1
	github.com/shopspring/decimal v1.6.0
	github.com/stretchr/testify v1.12.1
	gocv.io/x/gocv v0.31.0
	golang.org/x/image v0.47.0
	golang.org/x/term v0.48.0
)

require (
	go.yaml.in/yaml/v3 v3.0.5 // indirect
	golang.org/x/sys v0.50.0 // indirect
)
