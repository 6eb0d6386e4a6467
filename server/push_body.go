package server

import (
	"encoding/json"
	"fmt"
	"reflect"
	"unicode/utf8"

	"github.com/danielgtaylor/huma/v2"
)

// pushBody is what a phone pushes. It is read by hand: at a hundred phones the
// general reading took as long as the commit.
type pushBody struct {
	Device struct {
		ID   string `json:"id" maxLength:"200"`
		Name string `json:"name" maxLength:"200"`
	} `json:"device"`
	Records []json.RawMessage `json:"records" maxItems:"1000" nullable:"false" doc:"in their canonical form"`
}

// describePush puts the body, which huma sees as bytes, into the description.
func describePush(api huma.API, path string) {
	d := api.OpenAPI()
	d.Paths[path].Post.RequestBody.Content["application/json"].Schema = d.Components.Schemas.Schema(reflect.TypeFor[pushBody](), true, "PushBody")
}

// misfit is JSON that is not as described.
type misfit string

// Error says what does not fit.
func (m misfit) Error() string { return string(m) }

// readPush reads the body as its description has it. The error is a misfit, or
// one of encoding/json.
func readPush(raw []byte) (p pushBody, err error) {
	if !json.Valid(raw) {
		return p, json.Unmarshal(raw, new(any))
	}
	has, err := members(raw, "body", func(key string, value []byte) error {
		switch key {
		case "device":
			return p.readDevice(value)
		case "records":
			return p.readRecords(value)
		}
		return misfit("unexpected property: body." + key)
	})
	if err == nil && !(has["device"] && has["records"]) {
		err = misfit("expected required properties device and records to be present: body")
	}
	return p, err
}

func (p *pushBody) readDevice(raw []byte) error {
	has, err := members(raw, "body.device", func(key string, value []byte) error {
		switch key {
		case "id":
			return readName(value, "body.device.id", &p.Device.ID)
		case "name":
			return readName(value, "body.device.name", &p.Device.Name)
		}
		return misfit("unexpected property: body.device." + key)
	})
	if err == nil && !(has["id"] && has["name"]) {
		err = misfit("expected required properties id and name to be present: body.device")
	}
	return err
}

// maxName is how many characters a device's id and name may have.
const maxName = 200

func readName(raw []byte, place string, into *string) error {
	if raw[0] != '"' {
		return misfit("expected string: " + place)
	}
	if err := json.Unmarshal(raw, into); err != nil {
		return err
	}
	if utf8.RuneCountInString(*into) > maxName {
		return misfit(fmt.Sprintf("expected length <= %d: %s", maxName, place))
	}
	return nil
}

func (p *pushBody) readRecords(raw []byte) error {
	if raw[0] != '[' {
		return misfit("expected array: body.records")
	}
	p.Records = []json.RawMessage{}
	for at := skipBlank(raw, 1); raw[at] != ']'; {
		end := valueEnd(raw, at)
		p.Records = append(p.Records, raw[at:end])
		if at = skipBlank(raw, end); raw[at] == ',' {
			at = skipBlank(raw, at+1)
		}
	}
	if len(p.Records) > maxRead {
		return misfit(fmt.Sprintf("expected array length <= %d: body.records", maxRead))
	}
	return nil
}

// members runs work on every member of an object. Here and below the JSON is
// valid, so that quotes and brackets alone tell where a value ends. It gives the keys.
func members(raw []byte, place string, work func(key string, value []byte) error) (seen map[string]bool, err error) {
	at := skipBlank(raw, 0)
	if raw[at] != '{' {
		return nil, misfit("expected object: " + place)
	}
	seen = map[string]bool{}
	for at = skipBlank(raw, at+1); raw[at] != '}'; {
		end := valueEnd(raw, at)
		var key string
		if err := json.Unmarshal(raw[at:end], &key); err != nil {
			return nil, err
		}
		if seen[key] {
			return nil, misfit("property twice: " + place + "." + key)
		}
		seen[key] = true
		at = skipBlank(raw, skipBlank(raw, end)+1) // past the colon
		end = valueEnd(raw, at)
		if err := work(key, raw[at:end]); err != nil {
			return nil, err
		}
		if at = skipBlank(raw, end); raw[at] == ',' {
			at = skipBlank(raw, at+1)
		}
	}
	return seen, nil
}

func skipBlank(raw []byte, at int) int {
	for at < len(raw) && (raw[at] == ' ' || raw[at] == '\t' || raw[at] == '\n' || raw[at] == '\r') {
		at++
	}
	return at
}

// valueEnd is where the value that begins at a place ends.
func valueEnd(raw []byte, at int) int {
	depth := 0
	for ; at < len(raw); at++ {
		switch raw[at] {
		case '"':
			at = quoteEnd(raw, at)
			if depth == 0 {
				return at + 1
			}
		case '{', '[':
			depth++
		case '}', ']':
			if depth == 0 {
				return at // a bare word before it
			}
			if depth--; depth == 0 {
				return at + 1
			}
		case ',', ' ', '\t', '\n', '\r':
			if depth == 0 {
				return at
			}
		}
	}
	return at
}

// quoteEnd is the quote that ends the string which begins at a place.
func quoteEnd(raw []byte, at int) int {
	for at++; raw[at] != '"'; at++ {
		if raw[at] == '\\' {
			at++
		}
	}
	return at
}
