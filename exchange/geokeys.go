package exchange

import (
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// geoKeys are the keys of a GeoTIFF that are read (OGC 19-008r4, annex A).
type geoKeys struct {
	points       bool // a figure is of a point, not of a cell from its corner
	plan, height uint64
}

// The keys and their values.
const (
	keyModel       = 1024
	keyRaster      = 1025
	keyPlanUnits   = 3076
	keyHeightUnits = 4099

	modelProjected = 1
	modelUser      = 32767
	rasterArea     = 1
	rasterPoint    = 2
)

// geoKeys reads the directory of keys. A file without one tells only its places.
func (f *tiffFile) geoKeys(tags tiffTags) (geoKeys, *phrase.Fault) {
	var out geoKeys
	if _, there := tags[tagGeoKeys]; !there {
		return out, nil
	}
	list := f.wholes(tags, tagGeoKeys)
	if len(list) < 4 || list[0] != 1 || uint64(len(list)) < 4+4*list[3] {
		return out, tiffFault("exchange.geotiff_keys", tagPlace(tagGeoKeys))
	}
	found := map[uint64]uint64{}
	for k := range list[3] {
		e := list[4+4*k:]
		if e[1] == 0 && e[2] == 1 { // the value itself; others are texts and figures
			found[e[0]] = e[3]
		}
	}
	if m, told := found[keyModel]; told && m != modelProjected && m != modelUser {
		return out, tiffFault("exchange.geotiff_degrees", tagPlace(tagGeoKeys), phrase.With("value", int(m)))
	}
	switch r, told := found[keyRaster]; {
	case told && r != rasterArea && r != rasterPoint:
		return out, tiffFault("exchange.geotiff_raster", tagPlace(tagGeoKeys), phrase.With("value", int(r)))
	case told:
		out.points = r == rasterPoint
	}
	out.plan, out.height = found[keyPlanUnits], found[keyHeightUnits]
	return out, nil
}

// linearUnit is the unit of an EPSG code: 9001 metre, 9002 foot, 9003 US survey
// foot; nil for 0, not told.
func linearUnit(code uint64) (*unit.Scale, *phrase.Fault) {
	for i, s := range []unit.Scale{unit.Metres, unit.Feet, unit.SurveyFeet} {
		if code == uint64(9001+i) {
			return &s, nil
		}
	}
	if code == 0 {
		return nil, nil
	}
	return nil, tiffFault("exchange.geotiff_unit", tagPlace(tagGeoKeys), phrase.With("value", int(code)))
}

// bandUnits are words for the unit of elevations as GDAL writes them.
var bandUnits = map[string]unit.Scale{
	"m": unit.Metres, "metre": unit.Metres, "meter": unit.Metres, "metres": unit.Metres, "meters": unit.Metres,
	"ft": unit.Feet, "foot": unit.Feet, "feet": unit.Feet,
	"us-ft": unit.SurveyFeet, "us survey foot": unit.SurveyFeet, "ftus": unit.SurveyFeet,
}

// bandUnit reads the unit of the band from GDAL's own metadata, nil where it is
// not told, and refuses figures that have a scale or an offset.
func bandUnit(tags tiffTags) (*unit.Scale, *phrase.Fault) {
	text, _ := tags.text(tagGDALMetadata)
	var out *unit.Scale
	for {
		_, rest, found := strings.Cut(text, "<Item")
		if !found {
			return out, nil
		}
		item, after, _ := strings.Cut(rest, "</Item>")
		head, value, _ := strings.Cut(item, ">")
		value, text = strings.TrimSpace(value), after
		plain := "1"
		switch {
		case strings.Contains(head, `role="unittype"`):
			u, known := bandUnits[strings.ToLower(value)]
			if !known {
				return nil, tiffFault("exchange.geotiff_unit", tagPlace(tagGDALMetadata), phrase.With("value", value))
			}
			out = &u
		case strings.Contains(head, `role="offset"`):
			plain = "0"
			fallthrough
		case strings.Contains(head, `role="scale"`):
			if value != plain {
				return nil, tiffFault("exchange.geotiff_scaled", tagPlace(tagGDALMetadata), phrase.With("value", value))
			}
		}
	}
}
