package cab

import (
	"bytes"
	"encoding/json"
	"errors"

	"spadework/engine/job"
)

// FormValue is a value of the job file as a page's form holds it: a text, a list
// or an object with its keys in order.
type FormValue job.Value

// MarshalJSON keeps the order of keys.
func (v FormValue) MarshalJSON() ([]byte, error) { return appendValue(nil, job.Value(v)) }

func appendValue(out []byte, v job.Value) ([]byte, error) {
	var err error
	switch v.Shape {
	case job.ListShape:
		out = append(out, '[')
		for i, item := range v.Items {
			if i > 0 {
				out = append(out, ',')
			}
			if out, err = appendValue(out, item); err != nil {
				return nil, err
			}
		}
		return append(out, ']'), nil
	case job.TableShape:
		out = append(out, '{')
		for i, k := range v.Keys {
			if i > 0 {
				out = append(out, ',')
			}
			if out, err = appendText(out, k.Key); err != nil {
				return nil, err
			}
			if out, err = appendValue(append(out, ':'), k.Value); err != nil {
				return nil, err
			}
		}
		return append(out, '}'), nil
	}
	return appendText(out, v.Text)
}

func appendText(out []byte, text string) ([]byte, error) {
	data, err := json.Marshal(text)
	return append(out, data...), err
}

// errShape is a value that no form makes.
var errShape = errors.New("a value is a text, a list or an object")

// UnmarshalJSON keeps the order of keys.
func (v *FormValue) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	out, err := readValue(d)
	*v = FormValue(out)
	return err
}

func readValue(d *json.Decoder) (job.Value, error) {
	token, err := d.Token()
	if err != nil {
		return job.Value{}, err
	}
	switch x := token.(type) {
	case string:
		return job.Value{Text: x}, nil
	case json.Delim:
		out := job.Value{Shape: job.ListShape}
		if x == '{' {
			out.Shape = job.TableShape
		}
		for d.More() {
			if err := readMember(d, &out); err != nil {
				return out, err
			}
		}
		_, err := d.Token()
		return out, err
	}
	return job.Value{}, errShape
}

// readMember reads one item of a list or one key of an object.
func readMember(d *json.Decoder, out *job.Value) error {
	key := ""
	if out.Shape == job.TableShape {
		token, err := d.Token()
		if err != nil {
			return err
		}
		key, _ = token.(string) // a key of an object is a string (RFC 8259)
	}
	v, err := readValue(d)
	if err != nil {
		return err
	}
	if out.Shape == job.TableShape {
		out.Keys = append(out.Keys, job.KeyValue{Key: key, Value: v})
	} else {
		out.Items = append(out.Items, v)
	}
	return nil
}
