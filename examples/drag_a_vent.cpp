// SPDX-License-Identifier: MIT
// A plug-in of a C++17 host: it looks into the part once, keeps what it found, and answers again whenever the
// user has dragged the vent a bit farther.
#include <cstdio>
#include <memory>
#include <stdexcept>
#include <string>
#include <vug.h>

// The library's handles end themselves.
template <auto Free> struct Freed {
    template <class T> void operator()(T *handle) const { Free(handle); }
};
using Context = std::unique_ptr<vug_context, Freed<vug_context_free>>;
using Mesh = std::unique_ptr<vug_mesh, Freed<vug_mesh_free>>;
using Cavities = std::unique_ptr<vug_cavities, Freed<vug_cavities_free>>;
using Pockets = std::unique_ptr<vug_pockets, Freed<vug_pockets_free>>;

class VentTool {
public:
    explicit VentTool(const std::string &file)
    {
        ctx_.reset(make<vug_context>([&](auto out) { return vug_context_create(nullptr, out); }));
        Mesh part(make<vug_mesh>(
            [&](auto out) { return vug_mesh_load(ctx_.get(), file.c_str(), nullptr, out); }));
        inside_.reset(make<vug_cavities>([&](auto out) {
            return vug_cavities_find(ctx_.get(), part.get(), nullptr, 0, nullptr, out);
        })); // keeps what it needs of the part
    }

    // Air that stays, in mm3, if the part is held upright and has a vent of 2 mm there, straight down; below 0 where
    // there is no room for one: the vent is drawn red.
    double trapped(double x, double y, double z)
    {
        const double vent[7] = {x, y, z, 0, 0, 1, 2}, up[3] = {0, 0, 1};
        vug_cavities *vented = nullptr;
        vug_status status = vug_cavities_with_bores(ctx_.get(), inside_.get(), vent, 1, &vented);
        if (status == VUG_ERR_NOT_FOUND)
            return -1.0;
        check(status);
        Cavities owned(vented);
        Pockets air(make<vug_pockets>([&](auto out) {
            return vug_pockets_find(ctx_.get(), vented, up, nullptr, 0, nullptr, out);
        }));
        return vug_pockets_trapped_mm3(air.get());
    }

private:
    template <class T, class Call> T *make(Call call)
    {
        T *made = nullptr;
        check(call(&made));
        return made;
    }

    void check(vug_status status) const
    {
        if (status != VUG_OK)
            throw std::runtime_error(ctx_ ? vug_context_message(ctx_.get()) : vug_status_name(status));
    }

    Context ctx_;
    Cavities inside_;
};

int main(int argc, char **argv)
try {
    VentTool tool(argc > 1 ? argv[1] : "gourd.stl");
    for (int step = 0; step <= 8; step++) {
        const double x = 2.0 * step;
        const double air = tool.trapped(x, 0, 60);
        if (air < 0)
            std::printf("vent at x = %2.0f mm: there is no room for it\n", x);
        else
            std::printf("vent at x = %2.0f mm: %5.2f ml of air stay\n", x, 1e-3 * air);
    }
} catch (const std::exception &error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
}
