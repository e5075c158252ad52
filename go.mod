module stopgap

go 1.26.0

require (
	github.com/beevik/etree v1.8.1
	github.com/goccy/go-yaml v1.19.2
	github.com/google/go-cmp v0.7.0
	github.com/natefinch/atomic v1.0.1
	github.com/rogpeppe/go-internal v1.16.0
	github.com/spf13/pflag v1.1.0
	golang.org/x/net v0.62.0
	golang.org/x/sys v0.50.0
	golang.org/x/text v0.44.0
	pgregory.net/rapid v1.3.0
)

require golang.org/x/tools v0.52.0 // indirect
