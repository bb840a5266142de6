module starwright

go 1.26.0

require (
	codeberg.org/go-pdf/fpdf v0.11.1
	github.com/google/go-cmp v0.7.0
	github.com/inconshreveable/mousetrap v1.1.0
	github.com/pelletier/go-toml/v2 v2.4.3
	github.com/peterstace/simplefeatures v0.50.0
	github.com/rogpeppe/go-internal v1.16.0
	github.com/spf13/cobra v1.10.2
	github.com/srwiley/rasterx v0.0.0-20220730225603-2ab79fcdd4ef
	golang.org/x/image v0.27.0
	golang.org/x/net v0.40.0
	golang.org/x/sys v0.50.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/spf13/pflag v1.0.9 // indirect
	golang.org/x/text v0.25.0 // indirect
	golang.org/x/tools v0.26.0 // indirect
)
