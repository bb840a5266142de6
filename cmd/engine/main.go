//go:build js && wasm

// Command engine is package engine as WebAssembly, for the page that is one
// file: a worker of the page hands it calls and takes the replies, both as
// bytes. It opens no file and asks nobody on the network.
package main

import (
	"bytes"
	"context"
	"syscall/js"
	"time"

	"starwright/cmd/internal/engine"
)

func main() {
	js.Global().Set("engineCall", js.FuncOf(func(_ js.Value, args []js.Value) any {
		data := make([]byte, args[0].Length())
		js.CopyBytesToGo(data, args[0])
		go carryOut(data, args[1])
		return nil
	}))
	js.Global().Call("engineReady")
	select {}
}

// carryOut carries one call out. give takes the bytes of the reply, its last
// piece with true.
func carryOut(call []byte, give js.Value) {
	out := &pieces{give: give}
	c, err := engine.ReadCall(bytes.NewReader(call))
	var r engine.Reply
	if err == nil {
		c.Tell = out.tell
		var known bool
		if r, err, known = engine.Handle(context.Background(), c); !known {
			err = &engine.Fault{Kind: "call", Lines: []string{"the engine knows no call of this name"}}
		}
	}
	var b bytes.Buffer
	if err := engine.WriteReply(&b, r, err); err != nil {
		b.Reset()
		engine.WriteReply(&b, engine.Reply{}, err)
	}
	out.send(b.Bytes(), true)
}

// pieces hands bytes to the worker.
type pieces struct {
	give js.Value
	last time.Time
}

func (p *pieces) send(data []byte, end bool) {
	a := js.Global().Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(a, data)
	p.give.Invoke(a, end)
}

// tell sends how far a call is, now and then.
func (p *pieces) tell(what string, done, total int) {
	const often = 100 * time.Millisecond
	if time.Since(p.last) < often {
		return
	}
	p.last = time.Now()
	var b bytes.Buffer
	if engine.WriteProgress(&b, what, done, total) == nil {
		p.send(b.Bytes(), false)
	}
}
