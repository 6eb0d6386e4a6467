module spadework

go 1.26

toolchain go1.26.8

<<<<<<< HEAD
require (
	github.com/alecthomas/kong v1.17.0 // indirect
	github.com/pelletier/go-toml/v2 v2.4.3 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
=======
>>>>>>> unit
require pgregory.net/rapid v1.3.0
