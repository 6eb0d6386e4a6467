package exchange

import (
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// gridJob is a job over a grid; head and ground are the keys of [job] and
// [ground].
func gridJob(head, ground string) string {
	return "[job]\nname = \"x\"\n" + head + "\n[ground]\n" + ground + "\n"
}

// openGrids opens the grids of the GeoTIFF tests and a small text.
func openGrids(name string) ([]byte, error) {
	if name == "text.asc" {
		return []byte("ncols 2\nnrows 2\nxllcenter 0\nyllcenter 0\ncellsize 10\n1 2\n3 4\n"), nil
	}
	return os.ReadFile(tiffData + name)
}

// TestGridsAreTurnedToMetres: 1 ft = 0.3048 m, 1 US survey foot = 1200/3937 m
// (NIST SP 811 annex B).
func TestGridsAreTurnedToMetres(t *testing.T) {
	const survey = 1200.0 / 3937.0
	for _, c := range []struct {
		head, ground string
		at           geom.Point // job coordinates, metres
		want         float64
	}{
		{`units = "m"`, `surface = "text.asc"`, geom.Point{X: 10, Y: 0}, 4},
		{`units = "ft"`, "surface = \"text.asc\"\nunit = \"m\"\nheight_unit = \"ft\"", geom.Point{X: 10, Y: 0}, 4 * 0.3048},
		{`units = "ft"`, "surface = \"text.asc\"\nunit = \"ft\"\nheight_unit = \"m\"", geom.Point{X: 3.048, Y: 3.048}, 2},
		{`units = "m"`, "surface = \"strips.tif\"\nheight_unit = \"m\"", geom.Point{X: 512005, Y: 4902285}, 259.99700927734375},
		{`units = "ft"`, `surface = "survey-feet.tif"`, geom.Point{X: 512005 * survey, Y: 4902285 * survey}, 259.99700927734375 * survey},
	} {
		j, _, err := ReadJob("job.toml", []byte(gridJob(c.head, c.ground)), openGrids)
		if err != nil {
			t.Errorf("%s, %s: %v", c.head, c.ground, err)
			continue
		}
		o := j.Origin.Job(geom.Point{})
		at := geom.Point{X: c.at.X - o.X, Y: c.at.Y - o.Y}
		box := j.Existing.Surface.Bounds()
		at = geom.Point{X: min(max(at.X, box.Min.X), box.Max.X), Y: min(max(at.Y, box.Min.Y), box.Max.Y)} // the rim, rounded
		// 1 µm: rounding of places at 4 900 000 m on slopes up to 1.
		if z, ok := j.Existing.Surface.Height(at); !ok || !(math.Abs(z-c.want) <= 1e-6) {
			t.Errorf("%s, %s: Height = %v %v, want %v", c.head, c.ground, z, ok, c.want)
		}
	}
}

func TestUnitsOfGridsAreAskedFor(t *testing.T) {
	for _, c := range []struct{ head, ground, key, place string }{
		{`units = "ft"`, `surface = "text.asc"`, "job.grid_unit", "job.toml:5"},
		{`units = "m"`, `surface = "strips.tif"`, "job.grid_unit", "job.toml:5"}, // heights untold
		{`units = "m"`, "surface = \"strips.tif\"\nunit = \"ft\"\nheight_unit = \"m\"", "job.grid_other_unit", "job.toml:6"},
		{`units = "m"`, "surface = \"text.asc\"\nunit = \"chain\"", "job.not_a_choice", "job.toml:6"},
		{`units = "m"`, "level = 5\nunit = \"m\"", "job.unknown_key", "job.toml:6"},
		{`units = "m"`, `surface = "gdal.csv"`, "exchange.grid_key", "gdal.csv:1"},
	} {
		_, _, err := ReadJob("job.toml", []byte(gridJob(c.head, c.ground)), openGrids)
		var f *phrase.Fault
		if !errors.As(err, &f) || string(f.What.Key) != c.key || !strings.HasPrefix(f.Place.String(), c.place) {
			t.Errorf("%s, %s: %v, want %s at %s", c.head, c.ground, err, c.key, c.place)
		}
	}
}

// TestGeoTIFFIsNoText: a bundle holds texts, and says so.
func TestGeoTIFFIsNoText(t *testing.T) {
	_, err := BundleOf("job.toml", func(name string) ([]byte, error) {
		if name == "job.toml" {
			return []byte(gridJob(`units = "m"`, "surface = \"strips.tif\"\nheight_unit = \"m\"")), nil
		}
		return openGrids(name)
	})
	var f *phrase.Fault
	if !errors.As(err, &f) || f.What.Key != "exchange.bundle_text" {
		t.Errorf("BundleOf = %v, want exchange.bundle_text", err)
	}
}
