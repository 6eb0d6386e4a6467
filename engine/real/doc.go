// Package real holds the functions of one real variable whose last digits
// package math does not promise to be the same on every machine, in portable
// Go: every product that feeds a sum is rounded first, float64(a*b), so that no
// compiler fuses it.
//
// The engine never calls the following of package math (Go 1.26, as found in
// its source tree), directly or through a library:
//
//	Exp, Exp2            assembly on amd64, arm64, loong64, s390x; on amd64 it
//	                     even depends on whether the processor has FMA
//	Log, Log2, Log10     Log is assembly on amd64 and s390x
//	Hypot                assembly on 386 and amd64
//	Expm1, Log1p, Pow,   portable on amd64 and wasm but fused on arm64, or built
//	Erf, Erfc, Gamma,    on Exp or Log; assembly on s390x
//	Sinh, Cosh, Tanh,
//	Asinh, Acosh, Atanh
//
// Allowed, because the result is exact or correctly rounded everywhere:
//
//	Sqrt, FMA, Abs, Copysign, Signbit, Floor, Ceil, Trunc, Round, RoundToEven,
//	Mod, Modf, Remainder, Frexp, Ldexp, Min, Max, Nextafter, Float64bits, …
//
// Allowed with care, because amd64 and wasm run the same portable code but
// arm64 may fuse a product (last digit only; s390x has its own assembly):
//
//	Sin, Cos, Sincos, Tan, Asin, Acos, Atan, Atan2, Cbrt
//
// A product by a power of two is exact, so halves and doubles may stand bare.
//
// The promise holds for GOAMD64=v1 and v2; a build for v3 lets the compiler
// fuse in package math and in code that does not round its products.
package real
