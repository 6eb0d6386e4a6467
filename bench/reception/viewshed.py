"""Times GDAL's in-memory viewshed: CPU milliseconds a place, one line."""
import array
import sys
import time

from osgeo import gdal

gdal.UseExceptions()
folder = sys.argv[1]
side = 2000
source = gdal.GetDriverByName("MEM").Create("", side, side, 1, gdal.GDT_Float64)
source.SetGeoTransform((0, 0.5, 0, 0.5 * side, 0, -0.5))  # north up, as it asks for
with open(folder + "/grid.bin", "rb") as f:
    source.GetRasterBand(1).WriteRaster(0, 0, side, side, f.read())
places = array.array("d")
with open(folder + "/places.bin", "rb") as f:
    places.frombytes(f.read())

band = source.GetRasterBand(1)
start, visible = time.process_time(), 0
for i in range(0, len(places), 2):
    out = gdal.ViewshedGenerate(
        band, "MEM", "unused", [], places[i], 0.5 * side - places[i + 1], 1.5, 0.0, 255, 0, 0, -1,
        0.0, gdal.GVM_Edge, 100.0)
    visible += out.RasterXSize * out.RasterYSize
print("%.4f %d" % (1000 * (time.process_time() - start) / (len(places) / 2), visible))
