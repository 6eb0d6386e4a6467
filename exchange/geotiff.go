package exchange

import (
	"math"
	"strconv"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// ReadGrid reads a grid of elevations by its first bytes: a GeoTIFF, or else an
// ESRI ASCII grid.
func ReadGrid(data []byte) (job.Grid, error) {
	if isTIFF(data) {
		return ReadGeoTIFF(data)
	}
	return readTextGrid(data)
}

// readTextGrid reads a grid of bare figures.
func readTextGrid(data []byte) (job.Grid, error) {
	g, err := ReadASCIIGrid(data)
	return job.Grid{GridData: g, Bare: true}, err
}

// ReadGeoTIFF reads one band of elevations from a TIFF 6.0 or BigTIFF file that
// tells where it lies by GeoTIFF 1.1 (OGC 19-008r4): strips or tiles, whole
// numbers or floats, plain or packed by PackBits, LZW or Deflate, with their
// predictors. Its rows run west to east; one that is turned is refused, as are
// degrees and bands with a scale of their own. Places and elevations are given
// as the file has them, with the units it tells; no data becomes NaN. Errors are
// *phrase.Fault.
func ReadGeoTIFF(data []byte) (job.Grid, error) {
	g, f := readGeoTIFF(data)
	if f != nil {
		return job.Grid{}, f
	}
	return g, nil
}

func readGeoTIFF(data []byte) (job.Grid, *phrase.Fault) {
	file, tags, f := readTIFF(data)
	if f != nil {
		return job.Grid{}, f
	}
	image, f := readImage(file, tags)
	if f != nil {
		return job.Grid{}, f
	}
	keys, f := file.geoKeys(tags)
	if f != nil {
		return job.Grid{}, f
	}
	var out job.Grid
	if out.Plan, out.Height, f = gridUnits(keys, tags); f != nil {
		return job.Grid{}, f
	}
	lay, f := file.layOf(tags, keys)
	if f != nil {
		return job.Grid{}, f
	}
	none, f := image.noData(tags)
	if f != nil {
		return job.Grid{}, f
	}
	z, f := image.samples()
	if f != nil {
		return job.Grid{}, f
	}
	for i, v := range z {
		if v == none {
			z[i] = math.NaN()
		}
	}
	out.GridData = lay.grid(image, z)
	return out, nil
}

// noData is the figure that stands for no data, NaN where none is told. It is
// rounded as the samples are.
func (m *tiffImage) noData(tags tiffTags) (float64, *phrase.Fault) {
	text, there := tags.text(tagGDALNoData)
	if !there {
		return math.NaN(), nil
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		return 0, tiffFault("exchange.tiff_nodata", tagPlace(tagGDALNoData), phrase.With("value", text))
	}
	if m.format == formatFloat && m.bytes == 4 {
		v = float64(float32(v))
	}
	return v, nil
}

// geoLay is where cells lie: x = x0 + dx·column, y = y0 + dy·row, of the cell's
// centre. dx > 0; dy < 0 where the first row is the northernmost.
type geoLay struct{ x0, y0, dx, dy float64 }

// layOf reads the place of the cells from a scale and a tie point, or from a
// matrix (OGC 19-008r4, clause 7.3 and annex B).
func (f *tiffFile) layOf(tags tiffTags, keys geoKeys) (geoLay, *phrase.Fault) {
	scale, tie, matrix := f.doubles(tags, tagPixelScale), f.doubles(tags, tagTiepoint), f.doubles(tags, tagTransformation)
	var l geoLay
	switch {
	case len(matrix) == 16 && scale == nil:
		if matrix[1] != 0 || matrix[4] != 0 {
			return l, tiffFault("exchange.geotiff_turned", tagPlace(tagTransformation))
		}
		l = geoLay{x0: matrix[3], y0: matrix[7], dx: matrix[0], dy: matrix[5]}
	case len(scale) == 3 && len(tie) == 6 && matrix == nil:
		l = geoLay{dx: scale[0], dy: -scale[1]}
		l.x0, l.y0 = tie[3]-float64(tie[0]*l.dx), tie[4]-float64(tie[1]*l.dy)
		if l.dy >= 0 {
			return l, tiffFault("exchange.geotiff_turned", tagPlace(tagPixelScale))
		}
	default:
		return l, tiffFault("exchange.geotiff_place", tagPlace(tagTiepoint))
	}
	if !(l.dx > 0) || !(l.dy < 0 || l.dy > 0) {
		return l, tiffFault("exchange.geotiff_turned", tagPlace(tagPixelScale))
	}
	if !keys.points {
		l.x0, l.y0 = l.x0+l.dx/2, l.y0+l.dy/2
	}
	return l, nil
}

// grid turns samples in the file's order into a grid, whose rows run north.
func (l geoLay) grid(m *tiffImage, z []float64) ground.GridData {
	g := ground.GridData{Origin: geom.Point{X: l.x0, Y: l.y0}, DX: l.dx, DY: math.Abs(l.dy), Cols: m.cols, Rows: m.rows, Z: z}
	if l.dy < 0 {
		g.Origin.Y = l.y0 + float64(l.dy*float64(m.rows-1))
		for low, high := 0, m.rows-1; low < high; low, high = low+1, high-1 {
			a, b := z[low*m.cols:(low+1)*m.cols], z[high*m.cols:(high+1)*m.cols]
			for c := range a {
				a[c], b[c] = b[c], a[c]
			}
		}
	}
	return g
}

// gridUnits are the units that the file tells of places and of elevations.
func gridUnits(keys geoKeys, tags tiffTags) (plan, height *unit.Scale, f *phrase.Fault) {
	if plan, f = linearUnit(keys.plan); f != nil {
		return nil, nil, f
	}
	if height, f = linearUnit(keys.height); f != nil {
		return nil, nil, f
	}
	band, f := bandUnit(tags)
	if f != nil {
		return nil, nil, f
	}
	if band != nil && height != nil && *band != *height {
		return nil, nil, tiffFault("exchange.geotiff_two_units", tagPlace(tagGDALMetadata), phrase.With("a", band.String()), phrase.With("b", height.String()))
	}
	if height == nil {
		height = band
	}
	return plan, height, nil
}
