module fairlead

go 1.26

require (
	codeberg.org/go-pdf/fpdf v0.11.1
	github.com/andybalholm/brotli v1.2.0
	github.com/go-fonts/dejavu v0.3.4
	github.com/google/uuid v1.6.0
	github.com/maxence-charriere/go-app/v10 v10.1.11
	github.com/rogpeppe/go-internal v1.14.1
	github.com/xeipuuv/gojsonschema v1.2.0
	golang.org/x/image v0.44.0
	golang.org/x/net v0.56.0
	golang.org/x/text v0.40.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/xeipuuv/gojsonpointer v0.0.0-20180127040702-4e3ac2762d5f // indirect
	github.com/xeipuuv/gojsonreference v0.0.0-20180127040603-bd5ef7bd5415 // indirect
	golang.org/x/sys v0.46.0 // indirect
	golang.org/x/tools v0.47.0 // indirect
)
