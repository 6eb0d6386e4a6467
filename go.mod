module spadework

go 1.26.0

toolchain go1.26.8

require (
	github.com/alecthomas/kong v1.17.0 // indirect
	github.com/pelletier/go-toml/v2 v2.4.3 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/term v0.48.0 // indirect
)

require gonum.org/v1/gonum v0.17.0

require pgregory.net/rapid v1.3.0
go 1.26

toolchain go1.26.8

require pgregory.net/rapid v1.3.0 // indirect
