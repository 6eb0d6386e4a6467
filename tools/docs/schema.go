package main

import (
	"encoding/json"
	"strings"

	"spadework/engine/job"
)

// jsonSchema is docs/job.schema.json (JSON Schema 2020-12). It is no stricter
// than the decoder in what it lets through but for the case of words; what the
// keys mean together only the decoder judges.
func jsonSchema(sections []job.KeySection) []byte {
	var tables []job.Key
	for _, s := range sections {
		tables = append(tables, s.Tables...)
	}
	d := defs{}
	root := d.table(tables)
	root["$defs"] = d
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "Job file of Spadework"
	root["$comment"] = "Made by go generate ./tools/docs"
	out, err := json.MarshalIndent(root, "", " ")
	if err != nil {
		panic("docs: maps of texts do not fail to encode: " + err.Error())
	}
	return append(out, '\n')
}

// defs are the forms of tables by their path, so that each is written once.
type defs object

// table is a table with its keys and no other.
func (d defs) table(keys []job.Key) object {
	properties := object{}
	var must []string
	for _, k := range keys {
		properties[k.Name] = d.key(k)
		if k.Must {
			must = append(must, k.Name)
		}
	}
	out := object{"type": "object", "properties": properties, "additionalProperties": false}
	if must != nil {
		out["required"] = must
	}
	return out
}

// key is what a key may be, with what is told of it.
func (d defs) key(k job.Key) object {
	var forms []any
	var words []string
	for _, f := range k.Forms {
		forms = append(forms, d.form(f, k))
		words = append(words, strings.ReplaceAll(told(f), "`", ""))
	}
	out := object{}
	if len(forms) == 1 {
		for name, v := range forms[0].(object) {
			out[name] = v
		}
	} else {
		out["anyOf"] = forms
	}
	out["description"] = strings.Join(words, ", or ")
	if len(k.Only) > 0 {
		out["description"] = out["description"].(string) + " (" + strings.Join(k.Only, ", ") + ")"
	}
	return out
}

// named writes a table down once and gives a reference to it.
func (d defs) named(k job.Key) object {
	if d[k.Path] == nil {
		d[k.Path] = d.table(k.Keys)
	}
	return object{"$ref": "#/$defs/" + k.Path}
}

func (d defs) form(f job.KeyForm, k job.Key) object {
	switch f.Kind {
	case job.KindTable:
		return d.named(k)
	case job.KindTables:
		one := d.named(k)
		return either(one, listOf(one))
	case job.KindHeaders:
		properties := object{}
		for _, name := range f.Choices {
			properties[name] = word
		}
		return object{"type": "object", "properties": properties, "additionalProperties": false}
	case job.KindChoice:
		return object{"enum": f.Choices}
	}
	return values[f.Kind].form
}
