// CPU seconds of CGAL's Delaunay triangulations on the points that
// `go run ./bench/ground/sets` writes. Usage: cgal FILE REPEATS [cold]
#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <utility>
#include <vector>

using K = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = K::Point_2;
using Delaunay = CGAL::Delaunay_triangulation_2<K>;
using Constrained = CGAL::Constrained_Delaunay_triangulation_2<K>;

static double cpu() {
  timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

// A file is: uint32 points, uint32 segments, points as two float64, segments
// as two uint32 indices, little-endian.
int main(int argc, char **argv) {
  if (argc < 3) return 2;
  FILE *f = fopen(argv[1], "rb");
  uint32_t head[2];
  if (!f || fread(head, 4, 2, f) != 2) return 1;
  std::vector<double> xy(2 * size_t(head[0]));
  std::vector<uint32_t> ends(2 * size_t(head[1]));
  if (fread(xy.data(), 8, xy.size(), f) != xy.size()) return 1;
  if (fread(ends.data(), 4, ends.size(), f) != ends.size()) return 1;
  std::vector<Point> points;
  for (size_t i = 0; i < xy.size(); i += 2) points.emplace_back(xy[i], xy[i + 1]);
  std::vector<std::pair<std::size_t, std::size_t>> segments;
  for (size_t i = 0; i < ends.size(); i += 2) segments.emplace_back(ends[i], ends[i + 1]);
  for (int r = atoi(argv[2]); r > 0; r--) {
    size_t faces;
    double start = cpu();
    if (segments.empty()) {
      Delaunay t;
      t.insert(points.begin(), points.end());
      faces = t.number_of_faces();
      printf("%.4f %zu\n", cpu() - start, faces);
    } else {
      Constrained t;
      t.insert_constraints(points.begin(), points.end(), segments.begin(), segments.end());
      faces = t.number_of_faces();
      printf("%.4f %zu\n", cpu() - start, faces);
    }
    fflush(stdout);
  }
}
