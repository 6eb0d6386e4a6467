package server

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/danielgtaylor/huma/v2"
)

// general reads a body by encoding/json and huma's reading of the description.
func general(raw []byte) (pushBody, bool) {
	registry := huma.NewMapRegistry("#/", huma.DefaultSchemaNamer)
	schema := huma.SchemaFromType(registry, reflect.TypeFor[pushBody]())
	var v any
	if json.Unmarshal(raw, &v) != nil {
		return pushBody{}, false
	}
	result := &huma.ValidateResult{}
	huma.Validate(registry, schema, huma.NewPathBuffer(nil, 0), huma.ModeWriteToServer, v, result)
	var p pushBody
	err := json.Unmarshal(raw, &p)
	return p, len(result.Errors) == 0 && err == nil
}

var pushBodies = []string{
	`{"device":{"id":"d","name":"n"},"records":[]}`,
	" {\t\"records\" : [ {\"a\":[1,{\"b\":\"]}\\\"\"}]} , 3.5e1 , \"x\\\\\" ,null,[ ] ] ,\n \"device\": {\"name\":\"ñ\\u00f1\",\"id\":\"\"} } ",
	`{"device":{"id":"d","name":"n"},"records":null}`,
	`{"device":{"id":"d","name":"n"},"records":{}}`,
	`{"device":{"id":"d","name":"n"}}`,
	`{"records":[]}`,
	`{"device":null,"records":[]}`,
	`{"device":[],"records":[]}`,
	`{"device":{"id":1,"name":"n"},"records":[]}`,
	`{"device":{"id":"d"},"records":[]}`,
	`{"device":{"id":"d","name":"n","more":1},"records":[]}`,
	`{"Device":{"id":"d","name":"n"},"records":[]}`,
	`{"device":{"id":"d","name":"n"},"records":[],"x":1}`,
	`{"device":{"id":"` + strings.Repeat("ñ", 200) + `","name":"n"},"records":[]}`,
	`{"device":{"id":"` + strings.Repeat("ñ", 201) + `","name":"n"},"records":[]}`,
	`{"device":{"id":"d","name":"n"},"records":[1` + strings.Repeat(",1", 999) + `]}`,
	`{"device":{"id":"d","name":"n"},"records":[1` + strings.Repeat(",1", 1000) + `]}`,
	`{"device":{"id":"d","name":"n"},"records":[1,]}`,
	`{"device":{"id":"d","name":"n"},"records":[],"records":[]}`,
	`[]`, `"x"`, `3`, `null`, ``, `{`, `{"device":{"id":"d","name":"n"},"records":[]}}`,
}

// Law: readPush takes what the general reading takes, and reads the same.
func FuzzReadPush(f *testing.F) {
	for _, s := range pushBodies {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		want, ok := general(raw)
		got, err := readPush(raw)
		if err != nil && strings.HasPrefix(err.Error(), "property twice") {
			return // the general reading takes the last
		}
		if (err == nil) != ok {
			t.Fatalf("readPush(%q): %v, the general reading takes it: %v", raw, err, ok)
		}
		if err != nil {
			return
		}
		if got.Device != want.Device || len(got.Records) != len(want.Records) {
			t.Fatalf("readPush(%q) = %+v, want %+v", raw, got, want)
		}
		for i := range got.Records {
			if !bytes.Equal(got.Records[i], want.Records[i]) {
				t.Errorf("readPush(%q): record %d is %q, want %q", raw, i, got.Records[i], want.Records[i])
			}
		}
	})
}

func TestReadPushTellsMisfitsFromBrokenJSON(t *testing.T) {
	var m misfit
	if _, err := readPush([]byte(`{"device":3,"records":[]}`)); !errors.As(err, &m) || m != "expected object: body.device" {
		t.Errorf("readPush of a number for a device: %v, want a misfit", err)
	}
	if _, err := readPush([]byte(`{"device":`)); err == nil || errors.As(err, &m) {
		t.Errorf("readPush of half a body: %v, want an error of encoding/json", err)
	}
}
