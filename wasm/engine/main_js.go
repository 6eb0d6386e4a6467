//go:build js && wasm

package main

import (
	"encoding/json"
	"syscall/js"

	"spadework/cab"
)

// main gives the worker spadeworkEngine(request, progress): request and answer
// are Uint8Array, progress is called with JSON while long work goes on.
func main() {
	e := newEngine()
	js.Global().Set("spadeworkEngine", js.FuncOf(func(_ js.Value, args []js.Value) any {
		data := make([]byte, args[0].Length())
		js.CopyBytesToGo(data, args[0])
		var progress func(cab.Progress)
		if len(args) > 1 && args[1].Type() == js.TypeFunction {
			tell := args[1]
			progress = func(p cab.Progress) {
				if text, err := json.Marshal(p); err == nil {
					tell.Invoke(string(text))
				}
			}
		}
		answer := e.Call(data, progress)
		out := js.Global().Get("Uint8Array").New(len(answer))
		js.CopyBytesToJS(out, answer)
		return out
	}))
	if ready := js.Global().Get("spadeworkReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}
