module spadework/web/tools

go 1.26.0

toolchain go1.26.8

require (
	github.com/andybalholm/brotli v1.1.1
	github.com/evanw/esbuild v0.25.5
)

require golang.org/x/sys v0.0.0-20220715151400-c0bba94af5f8 // indirect
