// SPDX-License-Identifier: MIT
// What CGAL (https://www.cgal.org, Polygon_mesh_processing and AABB_tree) says of meshes in OFF files. For tests only.
//
//   outside sound MESH...             for each: closed, outward, crossing (0 or 1), volume
//   outside distances OUTER INNER     least and greatest distance of INNER's vertices from OUTER's triangles
//   outside walls MESH                at each vertex, inward: widest ball that touches there and crosses no wall, and straight
//                                     way to the wall opposite
//   outside difference PART TOOL      volume of the part less the tool, by exact predicates and constructions
#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/IO/OFF.h>
#include <CGAL/Polygon_mesh_processing/corefinement.h>
#include <CGAL/Polygon_mesh_processing/compute_normal.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/orientation.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Surface_mesh.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace pmp = CGAL::Polygon_mesh_processing;
using Fast = CGAL::Exact_predicates_inexact_constructions_kernel;
using Exact = CGAL::Exact_predicates_exact_constructions_kernel;

template <class Mesh> static Mesh read(const char *path)
{
    Mesh mesh;
    if (!CGAL::IO::read_OFF(path, mesh)) {
        std::fprintf(stderr, "%s is no mesh of two triangles at each edge\n", path);
        std::exit(1);
    }
    return mesh;
}

static void sound(const char *path)
{
    auto mesh = read<CGAL::Surface_mesh<Fast::Point_3>>(path);
    bool closed = CGAL::is_closed(mesh);
    std::printf("%d %d %d %.17g\n", closed, closed && pmp::does_bound_a_volume(mesh) && pmp::volume(mesh) > 0.0,
        pmp::does_self_intersect(mesh), closed ? CGAL::to_double(pmp::volume(mesh)) : std::nan(""));
}

static void distances(const char *outer_path, const char *inner_path)
{
    using Mesh = CGAL::Surface_mesh<Fast::Point_3>;
    using Primitive = CGAL::AABB_face_graph_triangle_primitive<Mesh>;
    Mesh outer = read<Mesh>(outer_path), inner = read<Mesh>(inner_path);
    CGAL::AABB_tree<CGAL::AABB_traits<Fast, Primitive>> tree(faces(outer).first, faces(outer).second, outer);
    double least = INFINITY, most = 0.0;
    for (auto v : inner.vertices()) {
        double squared = CGAL::to_double(tree.squared_distance(inner.point(v)));
        least = std::min(least, squared);
        most = std::max(most, squared);
    }
    std::printf("%.17g %.17g\n", std::sqrt(least), std::sqrt(most));
}

// Facets stand off the skin that they stand for, so a ball may be that little too wide: SLACK of its radius.
static void walls(const char *path)
{
    using Mesh = CGAL::Surface_mesh<Fast::Point_3>;
    using Primitive = CGAL::AABB_face_graph_triangle_primitive<Mesh>;
    using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Fast, Primitive>>;
    constexpr double SLACK = 0.02;
    Mesh mesh = read<Mesh>(path);
    Tree tree(faces(mesh).first, faces(mesh).second, mesh);
    for (auto v : mesh.vertices()) {
        const Fast::Point_3 p = mesh.point(v);
        const Fast::Vector_3 inward = -pmp::compute_vertex_normal(v, mesh);
        auto hit = tree.first_intersection(Fast::Ray_3(p + 1e-6 * inward, inward));
        double way = INFINITY, lo = 0.0;
        if (hit)
            if (const Fast::Point_3 *q = boost::get<Fast::Point_3>(&hit->first))
                way = std::sqrt(CGAL::to_double(CGAL::squared_distance(p, *q)));
        double hi = 0.5 * way;
        for (int i = 0; i < 40 && std::isfinite(way); i++) {
            double r = 0.5 * (lo + hi), inside = (1.0 - SLACK) * r;
            (CGAL::to_double(tree.squared_distance(p + r * inward)) >= inside * inside ? lo : hi) = r;
        }
        std::printf("%.17g %.17g\n", 2.0 * lo, way);
    }
}

static void difference(const char *part_path, const char *tool_path)
{
    using Mesh = CGAL::Surface_mesh<Exact::Point_3>;
    Mesh part = read<Mesh>(part_path), tool = read<Mesh>(tool_path), left;
    if (!pmp::corefine_and_compute_difference(part, tool, left))
        std::exit(1);
    std::printf("%.17g\n", CGAL::to_double(pmp::volume(left)));
}

int main(int argc, char **argv)
{
    std::string what = argc > 2 ? argv[1] : "";
    if (what == "sound")
        for (int i = 2; i < argc; i++)
            sound(argv[i]);
    else if (what == "distances" && argc == 4)
        distances(argv[2], argv[3]);
    else if (what == "walls" && argc == 3)
        walls(argv[2]);
    else if (what == "difference" && argc == 4)
        difference(argv[2], argv[3]);
    else
        return 2;
    return 0;
}
