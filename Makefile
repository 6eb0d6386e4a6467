# What is built to be given away. Everything else is "go run ." and .ci/check.
VERSION ?= $(shell git describe --tags --always --dirty)
COMMIT ?= $(shell git rev-parse HEAD)$(shell git diff --quiet HEAD || echo +)
DIST ?= dist

.PHONY: release licences

# Programs for Linux, macOS and Windows on amd64 and arm64, LICENCES, SHA256SUMS.
release:
	go generate ./web
	go run ./tools/release build -version "$(VERSION)" -commit "$(COMMIT)" -o "$(DIST)"

# LICENCES anew, from the modules linked and the packages of the page.
licences:
	cd web && npm ci --no-audit --no-fund --loglevel=error
	go run ./tools/release licences
