package tell

import (
	"strings"

	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// PointText names a point: its station on a run, its name on an area.
func PointText(v View, n plan.Number) string {
	name := KindText(v, n.NumberPoint)
	if n.HasStation {
		name = strings.TrimSpace(v.Style.Station(n.Station) + " " + name)
	}
	return PartPrefix(v, n) + name
}

// KindText is what a point is, with its number where there are several.
func KindText(v View, pt dig.NumberPoint) string {
	if pt.Kind == dig.Along {
		return ""
	}
	_, number, _ := strings.Cut(pt.Name, "-")
	return strings.TrimSpace(v.Text(phrase.Key("sheet.point_"+string(pt.Kind)), phrase.With("number", number)))
}

// PartPrefix names the part of a dig that has several.
func PartPrefix(v View, n plan.Number) string {
	if n.Part == "" || n.Part == "1" {
		return ""
	}
	return PartText(v, n.Part) + ": "
}

// PartText is the name of a part; slabs and edges have a word for it.
func PartText(v View, id string) string {
	kind, number, _ := strings.Cut(id, "-")
	switch kind {
	case "slab":
		return v.Text("sheet.part_slab")
	case "edge":
		return v.Text("sheet.part_edge", phrase.With("number", number))
	}
	return id
}
