package main

import "spadework/engine/job"

// object is a JSON object; encoding/json writes its keys in order.
type object map[string]any

// The forms of JSON that values take.
var (
	figure  = object{"type": []string{"number", "string"}} // bare, or with a unit of its own
	word    = object{"type": "string"}
	name    = object{"type": []string{"string", "number"}}
	boolean = object{"type": "boolean"}
)

func listOf(of any) object { return object{"type": "array", "items": of} }

func pairOf(of any) object { return object{"type": "array", "items": of, "minItems": 2, "maxItems": 2} }

func either(forms ...any) object { return object{"anyOf": forms} }

// value is a kind of values: how it is told, and its form in JSON.
type value struct {
	words string
	form  object
}

// values are the kinds but tables, choices and headers, which have parts of
// their own.
var values = map[job.ValueKind]value{
	job.KindText:      {"text", word},
	job.KindName:      {"name", name},
	job.KindNames:     {"list of names", either(name, listOf(name))},
	job.KindID:        {"id, unique", name},
	job.KindRef:       {"id of", name},
	job.KindRefs:      {"ids of", either(name, listOf(name))},
	job.KindFile:      {"file beside the job", word},
	job.KindFlag:      {"true or false", boolean},
	job.KindAnswer:    {"true or false; left out: not known", boolean},
	job.KindCount:     {"whole number", object{"type": "integer", "minimum": 0, "maximum": 1_000_000}},
	job.KindNumber:    {"number", object{"type": "number"}},
	job.KindLength:    {"length", figure},
	job.KindDistance:  {"length ≥ 0", figure},
	job.KindPositive:  {"length > 0", figure},
	job.KindElevation: {"elevation", figure},
	job.KindStation:   {"station", figure},
	job.KindStations:  {"list of stations", listOf(figure)},
	job.KindGrade:     {"grade", figure},
	job.KindGrades:    {"[least, most] grade", pairOf(figure)},
	job.KindAccuracy:  {"accuracy", figure},
	job.KindBatter:    {"side slope", figure},
	job.KindBatters:   {"list of side slopes, one a side", listOf(object{"type": []string{"number", "string", "object"}})},
	job.KindBearing:   {"bearing", figure},
	job.KindAngle:     {"angle in degrees", figure},
	job.KindAngles:    {"[least, most] angle in degrees", pairOf(figure)},
	job.KindPoint:     {"[east, north]", pairOf(figure)},
	job.KindPoints:    {"list of [east, north]", listOf(pairOf(figure))},
	job.KindSize:      {"[across, along], or one length of a square", either(figure, pairOf(figure))},
	job.KindPair:      {"[across, along]", pairOf(figure)},
	job.KindSpan:      {"[least, most] length", pairOf(figure)},
	job.KindPin:       {"[along, across]", pairOf(figure)},
	job.KindPixels:    {"[right, down] in pixels", pairOf(object{"type": "number"})},
	job.KindVolume:    {"volume", figure},
	job.KindFlow:      {"flow with its unit", figure},
	job.KindVoltage:   {"voltage", figure},
	job.KindShare:     {"per cent", figure},
	job.KindChance:    {"chance over 0 and under 1", figure},
	job.KindCost:      {"cost ≥ 0", figure},
	job.KindDate:      {"date", word},
	job.KindTime:      {"time", word},
	"clock":           {"time of day", word},
	"clocks":          {"list of times of day", either(word, listOf(word))},
}
