module sugarwright

go 1.26.0

require (
	github.com/ajstarks/svgo v0.0.0-20211024235047-1546f124cd8b // indirect
	github.com/andybalholm/cascadia v1.3.5 // indirect
	github.com/lucasb-eyer/go-colorful v1.4.1 // indirect
	github.com/paulmach/orb v0.14.0 // indirect
	github.com/pelletier/go-toml/v2 v2.4.3 // indirect
	github.com/peterstace/simplefeatures v0.59.0 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	github.com/spf13/pflag v1.1.0 // indirect
	github.com/stretchr/testify v1.12.1 // indirect
	github.com/tdewolff/parse/v2 v2.8.20 // indirect
	golang.org/x/image v0.47.0 // indirect
	golang.org/x/net v0.55.0 // indirect
	golang.org/x/vuln v1.9.0 // indirect
	honnef.co/go/tools v0.8.2 // indirect
)
