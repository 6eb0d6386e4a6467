//go:build js && wasm

package main

import "syscall/js"

// main gives the page spadeworkSheets(request), which returns a Uint8Array, or an
// Error's text as a string.
func main() {
	js.Global().Set("spadeworkSheets", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 1 {
			return "one request is wanted"
		}
		pdf, err := answer([]byte(args[0].String()))
		if err != nil {
			return err.Error()
		}
		out := js.Global().Get("Uint8Array").New(len(pdf))
		js.CopyBytesToJS(out, pdf)
		return out
	}))
	select {}
}
