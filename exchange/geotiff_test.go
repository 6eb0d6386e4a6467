package exchange

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

const tiffData = "testdata/geotiff/"

// node is the elevation of the cell at a place of the grid.
func node(g job.Grid, x, y float64) (float64, bool) {
	col, row := (x-g.Origin.X)/g.DX, (y-g.Origin.Y)/g.DY
	c, r := int(math.Round(col)), int(math.Round(row))
	// A cell's place to a millionth of it: GDAL writes places with 15 digits.
	if !(math.Abs(col-float64(c)) < 1e-6 && math.Abs(row-float64(r)) < 1e-6) || c < 0 || r < 0 || c >= g.Cols || r >= g.Rows {
		return 0, false
	}
	return g.Z[r*g.Cols+c], true
}

// sameAsGDAL compares lines "x y z" of GDAL's XYZ driver with a grid; none is the
// figure that stands for no data.
func sameAsGDAL(t *testing.T, name string, g job.Grid, lines [][]string, none float64) {
	t.Helper()
	for _, cell := range lines {
		var v [3]float64
		for i := range v {
			var err error
			if v[i], err = strconv.ParseFloat(cell[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		z, there := node(g, v[0], v[1])
		empty := v[2] == none || math.IsNaN(v[2])
		// 1e-9 of the elevation: digits that GDAL writes out.
		if !there || empty != math.IsNaN(z) || !empty && !(math.Abs(z-v[2]) <= 1e-9*math.Abs(v[2])+1e-12) {
			t.Errorf("%s: cell at %v, %v = %v (there: %v), want %v as GDAL has it", name, v[0], v[1], z, there, v[2])
			return
		}
	}
}

// TestReadGeoTIFFAgainstGDALsAnswers: as gdal_translate 3.6.2 wrote and read the
// files (note beside them).
func TestReadGeoTIFFAgainstGDALsAnswers(t *testing.T) {
	csv, err := os.ReadFile(tiffData + "gdal.csv")
	if err != nil {
		t.Fatal(err)
	}
	answers := map[string][][]string{}
	for line := range strings.Lines(string(csv)) {
		cell := strings.Split(strings.TrimSpace(line), ",")
		answers[cell[0]] = append(answers[cell[0]], cell[1:])
	}
	files, _ := filepath.Glob(tiffData + "*.tif")
	if len(files) != 6 || len(answers) != 6 {
		t.Fatalf("%d files, %d answered, want 6", len(files), len(answers))
	}
	for _, file := range files {
		name := filepath.Base(file)
		g := readTestGrid(t, file)
		none := -9999.0
		if name == "points.tif" {
			none = 0
		}
		if g.Cols != 37 || g.Rows != 29 || len(answers[name]) < 60 {
			t.Errorf("%s: %d × %d with %d answers, want 37 × 29", name, g.Cols, g.Rows, len(answers[name]))
		}
		sameAsGDAL(t, name, g, answers[name], none)
		plan, height := "m", "<nil>"
		if name == "survey-feet.tif" { // EPSG:2263+6360
			plan, height = "us_survey_ft", "us_survey_ft"
		}
		if got := scaleText(g.Plan); got != plan {
			t.Errorf("%s: places in %s, want %s", name, got, plan)
		}
		if got := scaleText(g.Height); got != height {
			t.Errorf("%s: elevations in %s, want %s", name, got, height)
		}
	}
}

func scaleText(s *unit.Scale) string {
	if s == nil {
		return "<nil>"
	}
	return s.String()
}

func readTestGrid(t *testing.T, file string) job.Grid {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	g, err := ReadGrid(data)
	if err != nil {
		t.Fatalf("ReadGrid(%s) = %v", file, err)
	}
	return g
}

// TestReadGeoTIFFAgainstGDAL writes one terrain in every layout that is read with
// gdal_translate (Debian gdal-bin) and compares every cell with GDAL's reading.
func TestReadGeoTIFFAgainstGDAL(t *testing.T) {
	if _, err := exec.LookPath("gdal_translate"); err != nil {
		t.Skip("NOTICE: no gdal_translate here (Debian gdal-bin): GeoTIFFs are compared with its kept answers alone")
	}
	dir, n := t.TempDir(), 0
	check := func(options string) {
		n++
		file := filepath.Join(dir, strconv.Itoa(n)+".tif")
		args := append(strings.Fields("-q -a_srs EPSG:32617 "+options), tiffData+"dem.asc", file)
		if out, err := exec.Command("gdal_translate", args...).CombinedOutput(); err != nil {
			t.Fatalf("gdal_translate %s: %v\n%s", options, err, out)
		}
		xyz, err := exec.Command("gdal_translate", "-q", "-of", "XYZ", file, "/vsistdout/").Output()
		if err != nil {
			t.Fatal(err)
		}
		var lines [][]string
		for line := range strings.Lines(string(xyz)) {
			lines = append(lines, strings.Fields(line))
		}
		g := readTestGrid(t, file)
		if len(lines) != 37*29 {
			t.Errorf("%s: GDAL gives %d cells, want %d", options, len(lines), 37*29)
		}
		none := -9999.0
		if strings.Contains(options, "-a_nodata 0") {
			none = 0
		}
		sameAsGDAL(t, options, g, lines, none)
	}
	tiles, big := " -co TILED=YES -co BLOCKXSIZE=16 -co BLOCKYSIZE=32", " -co ENDIANNESS=BIG -co BIGTIFF=YES"
	for _, kind := range []string{"Int16", "Float32", "Float64"} {
		base, predictors := "-ot "+kind, []string{"1", "2", "3"}
		if kind == "Int16" {
			predictors = predictors[:2]
		}
		check(base)
		check(base + " -co COMPRESS=PACKBITS -co BLOCKYSIZE=5")
		for _, p := range predictors {
			p = " -co PREDICTOR=" + p
			check(base + " -co COMPRESS=LZW" + p)
			check(base + " -co COMPRESS=LZW" + p + tiles)
			check(base + " -co COMPRESS=DEFLATE" + p + tiles)
			check(base + " -co COMPRESS=DEFLATE" + p + big)
		}
	}
	check("-ot Byte -a_nodata 0 -co COMPRESS=LZW -co PREDICTOR=2")
	check("-ot UInt16 -a_nodata 0 -co COMPRESS=LZW -co PREDICTOR=2" + big)
	check("-ot UInt32 -a_nodata 0 -co COMPRESS=DEFLATE -co PREDICTOR=2" + tiles)
	check("-ot Int32 -co COMPRESS=PACKBITS" + tiles)
	check("-ot Int64 -co COMPRESS=LZW" + tiles)
	check("-co SPARSE_OK=TRUE" + tiles)
	check("-mo AREA_OR_POINT=Point")
	check("-a_ullr 1000 2000 1370 2290") // the first row in the south
	if n != 46 {
		t.Errorf("%d layouts compared, want 46", n)
	}
}

// tiffEntry is one tag of a file made for a test.
type tiffEntry struct {
	tag, kind uint16
	values    []uint64
}

// tiffOf writes a little-endian file of one strip; doubles are given as bits.
func tiffOf(strip []byte, entries ...tiffEntry) []byte {
	le := binary.LittleEndian
	out := append([]byte("II*\x00"), le.AppendUint32(nil, uint32(8+len(strip)))...)
	out = append(out, strip...)
	head := le.AppendUint16(nil, uint16(len(entries)))
	var rest []byte
	start := uint32(8 + len(strip) + 2 + 12*len(entries) + 4)
	for _, e := range entries {
		var v []byte
		for _, x := range e.values {
			v = append(v, le.AppendUint64(nil, x)[:kindSizes[e.kind]]...)
		}
		head = le.AppendUint16(le.AppendUint16(head, e.tag), e.kind)
		head = le.AppendUint32(head, uint32(len(e.values)))
		if len(v) <= 4 {
			head = append(head, append(v, 0, 0, 0, 0)[:4]...)
			continue
		}
		head = le.AppendUint32(head, start+uint32(len(rest)))
		rest = append(rest, v...)
	}
	return append(append(append(out, head...), 0, 0, 0, 0), rest...)
}

func bitsOf(v ...float64) []uint64 {
	out := make([]uint64, len(v))
	for i := range v {
		out[i] = math.Float64bits(v[i])
	}
	return out
}

func letters(s string) []uint64 {
	out := make([]uint64, 0, len(s)+1)
	for _, c := range []byte(s) {
		out = append(out, uint64(c))
	}
	return append(out, 0)
}

// smallTIFF is 2 × 2 bytes; further entries replace those of the same tag.
func smallTIFF(more ...tiffEntry) []byte {
	entries := []tiffEntry{
		{tagWidth, 3, []uint64{2}}, {tagHeight, 3, []uint64{2}}, {tagBits, 3, []uint64{8}}, {tagPhotometric, 3, []uint64{1}},
		{tagStripOffsets, 4, []uint64{8}}, {tagStripBytes, 4, []uint64{4}},
		{tagPixelScale, 12, bitsOf(1, 1, 0)}, {tagTiepoint, 12, bitsOf(0, 0, 0, 10, 20, 0)},
		{tagGeoKeys, 3, []uint64{1, 1, 0, 2, 1024, 0, 1, 1, 3076, 0, 1, 9001}},
	}
next:
	for _, m := range more {
		for i := range entries {
			if entries[i].tag == m.tag {
				entries[i] = m
				continue next
			}
		}
		entries = append(entries, m)
	}
	return tiffOf([]byte{1, 2, 3, 4}, entries...)
}

func TestSmallGeoTIFF(t *testing.T) {
	g, err := ReadGrid(smallTIFF())
	if err != nil {
		t.Fatal(err)
	}
	// The first row lies in the north; a cell's figure is of its middle (OGC
	// 19-008r4, RasterPixelIsArea, which holds where nothing is told).
	if g.Origin.X != 10.5 || g.Origin.Y != 18.5 || !bytes.Equal([]byte{byte(g.Z[0]), byte(g.Z[1]), byte(g.Z[2]), byte(g.Z[3])}, []byte{3, 4, 1, 2}) {
		t.Errorf("ReadGrid = %+v, want 3 4 under 1 2 from 10.5, 18.5", g)
	}
}

// TestWrongGeoTIFFIsOneFault: each is refused for its own reason, before memory
// is asked for.
func TestWrongGeoTIFFIsOneFault(t *testing.T) {
	one := func(tag uint16, v ...uint64) tiffEntry { return tiffEntry{tag, 4, v} }
	for _, c := range []struct {
		name, key string
		data      []byte
	}{
		{"cut off", "exchange.tiff", smallTIFF()[:60]},
		{"no image", "exchange.tiff", []byte("II*\x00\x00\x00\x00\x00")},
		{"a chain that loops", "exchange.tiff_images", []byte("II*\x00\x08\x00\x00\x00\x01\x00\xfe\x00\x04\x00\x01\x00\x00\x00\x01\x00\x00\x00\x08\x00\x00\x00")},
		{"a mask", "exchange.tiff_images", smallTIFF(one(tagSubfile, 4))},
		{"huge", "exchange.grid_large", smallTIFF(one(tagWidth, 4_000_000_000), one(tagHeight, 4_000_000_000))},
		{"more than its bytes", "exchange.tiff_short", smallTIFF(one(tagWidth, 9000), one(tagHeight, 9000))},
		{"a bomb", "exchange.tiff_short", smallTIFF(one(tagWidth, 9000), one(tagHeight, 9000), one(tagCompression, 8))},
		{"nothing but left-out strips", "exchange.tiff_short", smallTIFF(one(tagWidth, 9000), one(tagHeight, 9000), one(tagStripOffsets, 0), one(tagStripBytes, 0))},
		{"a strip beyond the file", "exchange.tiff_short", smallTIFF(one(tagStripOffsets, 1<<30))},
		{"a tile of nothing", "exchange.tiff_blocks", smallTIFF(one(tagTileWidth, 0), one(tagTileHeight, 16), one(tagTileOffsets, 8), one(tagTileBytes, 4))},
		{"too few strips", "exchange.tiff_blocks", smallTIFF(one(tagStripRows, 1))},
		{"one row", "exchange.tiff_size", smallTIFF(one(tagHeight, 1))},
		{"a picture", "exchange.tiff_bands", smallTIFF(one(tagSamples, 3))},
		{"a palette", "exchange.tiff_photometric", smallTIFF(one(tagPhotometric, 3))},
		{"half floats", "exchange.tiff_sample", smallTIFF(one(tagBits, 16), one(tagSampleFormat, 3))},
		{"complex figures", "exchange.tiff_sample", smallTIFF(one(tagSampleFormat, 6))},
		{"LERC", "exchange.tiff_compression", smallTIFF(one(tagCompression, 34887))},
		{"reversed bits", "exchange.tiff_fill", smallTIFF(one(tagFillOrder, 2))},
		{"floats predicted as floats, being none", "exchange.tiff_predictor", smallTIFF(one(tagCompression, 5), one(tagPredictor, 3))},
		{"no Deflate", "exchange.tiff_short", smallTIFF(one(tagCompression, 8))},
		{"a strange no data", "exchange.tiff_nodata", smallTIFF(tiffEntry{tagGDALNoData, 2, letters("none")})},
		{"keys cut short", "exchange.geotiff_keys", smallTIFF(tiffEntry{tagGeoKeys, 3, []uint64{1, 1, 0, 9}})},
		{"degrees", "exchange.geotiff_degrees", smallTIFF(tiffEntry{tagGeoKeys, 3, []uint64{1, 1, 0, 1, 1024, 0, 1, 2}})},
		{"a strange raster", "exchange.geotiff_raster", smallTIFF(tiffEntry{tagGeoKeys, 3, []uint64{1, 1, 0, 1, 1025, 0, 1, 7}})},
		{"chains", "exchange.geotiff_unit", smallTIFF(tiffEntry{tagGeoKeys, 3, []uint64{1, 1, 0, 1, 3076, 0, 1, 9097}})},
		{"fathoms", "exchange.geotiff_unit", smallTIFF(tiffEntry{tagGDALMetadata, 2, letters(`<GDALMetadata><Item name="UNITTYPE" sample="0" role="unittype">fathom</Item></GDALMetadata>`)})},
		{"scaled", "exchange.geotiff_scaled", smallTIFF(tiffEntry{tagGDALMetadata, 2, letters(`<Item name="SCALE" sample="0" role="scale">0.1</Item>`)})},
		{"two units", "exchange.geotiff_two_units", smallTIFF(tiffEntry{tagGDALMetadata, 2, letters(`<Item role="unittype">ft</Item>`)},
			tiffEntry{tagGeoKeys, 3, []uint64{1, 1, 0, 1, 4099, 0, 1, 9001}})},
		{"no place", "exchange.geotiff_place", smallTIFF(tiffEntry{tagTiepoint, 12, bitsOf(0, 0, 0)})},
		{"a place that is no number", "exchange.geotiff_place", smallTIFF(tiffEntry{tagTiepoint, 12, bitsOf(0, 0, 0, math.NaN(), 20, 0)})},
		{"turned", "exchange.geotiff_turned", smallTIFF(tiffEntry{tagPixelScale, 4, []uint64{1}}, tiffEntry{tagTransformation, 12, bitsOf(1, 0.5, 0, 0, 0.5, -1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1)})},
		{"mirrored", "exchange.geotiff_turned", smallTIFF(tiffEntry{tagPixelScale, 12, bitsOf(-1, 1, 0)})},
	} {
		_, err := ReadGrid(c.data)
		var f *phrase.Fault
		if !errors.As(err, &f) || string(f.What.Key) != c.key {
			t.Errorf("%s: %v, want %s", c.name, err, c.key)
		}
	}
}

// FuzzReadGeoTIFF: any bytes are a whole grid or one fault.
func FuzzReadGeoTIFF(f *testing.F) {
	files, _ := filepath.Glob(tiffData + "*.tif")
	if len(files) == 0 {
		f.Fatal("no seeds")
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add(smallTIFF(tiffEntry{tagCompression, 4, []uint64{compressionPackBits}}))
	f.Fuzz(func(t *testing.T, data []byte) {
		g, err := ReadGeoTIFF(data)
		var fault *phrase.Fault
		if err != nil && !errors.As(err, &fault) {
			t.Errorf("ReadGeoTIFF = %T, want a fault", err)
		}
		if err == nil && (len(g.Z) != g.Cols*g.Rows || !(g.DX > 0 && g.DY > 0)) {
			t.Errorf("ReadGeoTIFF = %d values for %d × %d", len(g.Z), g.Cols, g.Rows)
		}
	})
}
