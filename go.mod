module spadework

go 1.26
toolchain go1.26.8
