// Frames painted by the processor, pixel by pixel.
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <random>
#include <vector>

#include "gui/pixel_painter.h"
#include "tests/gui/hand_frame.h"

namespace hitchwright::test {
namespace {

constexpr int width = HandFrame::width, height = HandFrame::height;
constexpr ImU32 black = 0xFF000000U, white = 0xFFFFFFFFU, half_white = 0x80FFFFFFU;

using Shape = HandFrame::Shape;

class Painted {
public:
    explicit Painted(HandFrame& frame, const CoverTexture& letters = Spot().texture(), ImU32 ground = black) {
        painter_.paint(frame.data(), {{0, 0, width, height}}, ground, letters);
    }
    std::uint32_t at(int x, int y) const { return painter_.pixels()[static_cast<std::size_t>(y * width + x)]; }
    int red(int x, int y) const { return static_cast<int>((at(x, y) >> 16U) & 0xFFU); }
    int green(int x, int y) const { return static_cast<int>((at(x, y) >> 8U) & 0xFFU); }
    int blue(int x, int y) const { return static_cast<int>(at(x, y) & 0xFFU); }
    const std::vector<std::uint32_t>& pixels() const { return painter_.pixels(); }

private:
    PixelPainter painter_;
};

void add_rectangle(HandFrame& frame, ImVec2 least, ImVec2 most, ImU32 colour) {
    frame.add({least, {most.x, least.y}, most, colour}).add({least, most, {least.x, most.y}, colour});
}

/// Letters with a place for every value, row by row.
struct Letters {
    static constexpr int size = 8;
    std::vector<std::uint8_t> pixels;

    explicit Letters(unsigned seed) {
        std::mt19937 random(seed);
        for (int i = 0; i < size * size; ++i) pixels.push_back(static_cast<std::uint8_t>(random() % 256U));
    }
    CoverTexture texture() const { return {pixels.data(), size, size}; }
    /// Between the middles of four of them, in proportion; 0 to 1.
    double at(double u, double v) const {
        const double x = std::clamp(u * size - 0.5, 0.0, size - 1.0), y = std::clamp(v * size - 0.5, 0.0, size - 1.0);
        const auto one = [&](double column, double row) {
            return pixels[static_cast<std::size_t>(std::min(row, size - 1.0)) * size + static_cast<std::size_t>(std::min(column, size - 1.0))] / 255.0;
        };
        const double left = std::floor(x), top = std::floor(y), across = x - left, down = y - top;
        return (1 - down) * ((1 - across) * one(left, top) + across * one(left + 1, top)) +
               down * ((1 - across) * one(left, top + 1) + across * one(left + 1, top + 1));
    }
};

double side(ImVec2 a, ImVec2 b, double x, double y) {
    const auto d = [](float v) { return static_cast<double>(v); };
    return (d(b.x) - d(a.x)) * (y - d(a.y)) - (d(b.y) - d(a.y)) * (x - d(a.x));
}

/// A picture by another route: shares of the three corners in double precision, nothing rounded.
class Model {
public:
    std::vector<std::array<double, 3>> pixels = std::vector<std::array<double, 3>>(width * height);  ///< red, green, blue, 0 to 1
    std::vector<bool> doubtful = std::vector<bool>(width * height, false);  ///< a middle beside an edge

    void paint(const std::array<ImDrawVert, 3>& t, const Letters& letters) {
        const double area = side(t[0].pos, t[1].pos, static_cast<double>(t[2].pos.x), static_cast<double>(t[2].pos.y));
        for (int y = 0; y < height; ++y) {
            for (int x = 0; x < width; ++x) {
                std::array<double, 3> share{};
                bool in = true, near = false;
                for (std::size_t i = 0; i < 3; ++i) {
                    const ImVec2 a = t[(i + 1) % 3].pos, b = t[(i + 2) % 3].pos;
                    const double s = side(a, b, x + 0.5, y + 0.5), length = std::hypot(static_cast<double>(b.x) - static_cast<double>(a.x), static_cast<double>(b.y) - static_cast<double>(a.y));
                    share[i] = s / area;
                    in = in && share[i] >= 0.0;
                    near = near || std::fabs(s) < length / 256.0;
                }
                const auto pixel = static_cast<std::size_t>(y * width + x);
                if (near) doubtful[pixel] = true;
                if (in) blend(pixels[pixel], t, share, letters);
            }
        }
    }

private:
    static void blend(std::array<double, 3>& pixel, const std::array<ImDrawVert, 3>& t, const std::array<double, 3>& share, const Letters& letters) {
        std::array<double, 4> colour{};
        double u = 0.0, v = 0.0;
        for (std::size_t i = 0; i < 3; ++i) {
            for (unsigned n = 0; n < 4; ++n) colour[n] += share[i] * ((t[i].col >> (8U * n)) & 0xFFU) / 255.0;
            u += share[i] * static_cast<double>(t[i].uv.x);
            v += share[i] * static_cast<double>(t[i].uv.y);
        }
        const double alpha = colour[3] * letters.at(u, v);
        for (std::size_t n = 0; n < 3; ++n) pixel[n] += (colour[n] - pixel[n]) * alpha;
    }
};

/// A triangle of some size, turning either way.
std::array<ImDrawVert, 3> make_triangle(std::mt19937& random) {
    std::uniform_real_distribution<float> x(-20.0F, width + 20.0F), y(-20.0F, height + 20.0F), place(0.0F, 1.0F);
    std::uniform_int_distribution<ImU32> colour;
    for (;;) {
        std::array<ImDrawVert, 3> t{};
        for (ImDrawVert& corner : t) corner = {{x(random), y(random)}, {place(random), place(random)}, colour(random)};
        // In a sliver a hundredth of a pixel changes the whole colour.
        if (std::fabs(side(t[0].pos, t[1].pos, static_cast<double>(t[2].pos.x), static_cast<double>(t[2].pos.y))) > 2000.0) return t;
    }
}

}  // namespace

TEST_CASE("pixel painter: a rectangle covers the pixels whose middles it holds, each once", "[gui][analytic]") {
    HandFrame frame;
    add_rectangle(frame, {3.4F, 2.6F}, {7.6F, 5.4F}, half_white);
    const Painted painted(frame);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) REQUIRE(painted.at(x, y) == (x >= 3 && x < 8 && y >= 3 && y < 5 ? 0xFF808080U : black));
}

TEST_CASE("pixel painter: a middle on an edge belongs to the triangle on its right or above it", "[gui][analytic]") {
    HandFrame frame;
    add_rectangle(frame, {3.5F, 2.5F}, {7.5F, 5.5F}, white);
    const Painted painted(frame);
    for (int y = 0; y < 9; ++y)
        for (int x = 0; x < 11; ++x) REQUIRE(painted.at(x, y) == (x >= 3 && x < 7 && y >= 3 && y < 6 ? white : black));
}

TEST_CASE("pixel painter: triangles that share edges cover each pixel once, wherever their corners lie", "[gui][random]") {
    constexpr unsigned seed = 31;
    std::mt19937 random(seed);
    // On middles of pixels and between them, so that many edges go through middles.
    std::uniform_int_distribution<> steps(-3, 3);
    constexpr int columns = 20, rows = 9, cell = 8;
    for (int round = 0; round < 20; ++round) {
        std::vector<ImVec2> points;
        for (int row = 0; row <= rows; ++row) {
            for (int column = 0; column <= columns; ++column) {
                const bool inside = row > 0 && row < rows && column > 0 && column < columns;
                const float by_x = inside ? 0.5F * static_cast<float>(steps(random)) : 0.0F, by_y = inside ? 0.5F * static_cast<float>(steps(random)) : 0.0F;
                points.emplace_back(static_cast<float>(10 + cell * column) + by_x, static_cast<float>(10 + cell * row) + by_y);
            }
        }
        HandFrame frame;
        for (int row = 0; row < rows; ++row) {
            for (int column = 0; column < columns; ++column) {
                const auto at = [&](int right, int down) { return points[static_cast<std::size_t>((row + down) * (columns + 1) + column + right)]; };
                frame.add({at(0, 0), at(1, 0), at(1, 1), half_white}).add({at(0, 1), at(0, 0), at(1, 1), half_white});
            }
        }
        INFO("seed " << seed << ", round " << round);
        const Painted painted(frame);
        for (int y = 0; y < height; ++y)
            for (int x = 0; x < width; ++x)
                REQUIRE(painted.at(x, y) == (x >= 10 && x < 10 + cell * columns && y >= 10 && y < 10 + cell * rows ? 0xFF808080U : black));
    }
}

TEST_CASE("pixel painter: a colour over another is what is between them, to the nearest", "[gui][analytic]") {
    HandFrame frame;
    for (ImU32 alpha = 0; alpha < 180; ++alpha) {
        const auto x = static_cast<float>(alpha);
        add_rectangle(frame, {x, 0.0F}, {x + 1.0F, 4.0F}, (alpha << 24U) | 0x00C81405U);
        add_rectangle(frame, {x, 4.0F}, {x + 1.0F, 8.0F}, ((alpha + 76U) << 24U) | 0x00C81405U);
    }
    const Painted painted(frame, Spot().texture(), 0xFF1E64FAU);
    for (int x = 0; x < 180; ++x) {
        for (const int row : {0, 4}) {
            const double share = (x + (row == 0 ? 0 : 76)) / 255.0;
            const auto between = [&](int colour, int under) { return static_cast<int>(std::lround(colour * share + under * (1.0 - share))); };
            INFO(x << ", " << row);
            REQUIRE(painted.red(x, row) == between(0x05, 0xFA));
            REQUIRE(painted.green(x, row) == between(0x14, 0x64));
            REQUIRE(painted.blue(x, row) == between(0xC8, 0x1E));
        }
    }
}

TEST_CASE("pixel painter: random triangles with colours and letters are within rounding of a model in double precision", "[gui][random]") {
    constexpr unsigned seed = 32;
    std::mt19937 random(seed);
    constexpr double rounding = 3.0 / 255.0;  // of letters, of their product with the colour's, of the blend; over each other
    int compared = 0;
    for (int round = 0; round < 40; ++round) {
        INFO("seed " << seed << ", round " << round);
        const Letters letters(static_cast<unsigned>(random()));
        HandFrame frame;
        Model model;
        for (int i = 0; i < 3; ++i) {
            const std::array<ImDrawVert, 3> t = make_triangle(random);
            frame.add({t[0].pos, t[1].pos, t[2].pos});
            for (std::size_t n = 0; n < 3; ++n) frame.corner(3 * i + static_cast<int>(n)) = t[n];
            model.paint(t, letters);
        }
        const Painted painted(frame, letters.texture());
        for (int y = 0; y < height; ++y) {
            for (int x = 0; x < width; ++x) {
                const auto pixel = static_cast<std::size_t>(y * width + x);
                if (model.doubtful[pixel]) continue;
                ++compared;
                REQUIRE(std::fabs(painted.red(x, y) / 255.0 - model.pixels[pixel][0]) < rounding);
                REQUIRE(std::fabs(painted.green(x, y) / 255.0 - model.pixels[pixel][1]) < rounding);
                REQUIRE(std::fabs(painted.blue(x, y) / 255.0 - model.pixels[pixel][2]) < rounding);
            }
        }
    }
    CHECK(compared > 40 * width * height * 9 / 10);
}

TEST_CASE("pixel painter: letters that stand upright are those of the texture, pixel by pixel", "[gui][analytic]") {
    const Letters letters(5);
    HandFrame frame;
    add_rectangle(frame, {20.0F, 30.0F}, {28.0F, 38.0F}, white);
    for (int i = 0; i < 6; ++i) frame.corner(i).uv = {(frame.corner(i).pos.x - 20.0F) / 8.0F, (frame.corner(i).pos.y - 30.0F) / 8.0F};
    const Painted painted(frame, letters.texture());
    for (int y = 0; y < 8; ++y)
        for (int x = 0; x < 8; ++x) REQUIRE(painted.red(20 + x, 30 + y) == letters.pixels[static_cast<std::size_t>(8 * y + x)]);
}

TEST_CASE("pixel painter: a rectangle has the pixels of its two triangles, whatever it shows and wherever its corners lie", "[gui][random]") {
    constexpr unsigned seed = 5;
    std::mt19937 random(seed);
    const Letters letters(seed);
    // Corners on eighths of a pixel: many edges run through middles.
    const auto eighth = [&](int most) { return static_cast<float>(static_cast<int>(random() % static_cast<unsigned>(8 * most)) - 40) / 8.0F; };
    const auto share = [&] { return static_cast<float>(random() % 1000U) / 1000.0F; };
    long apart = 0, pixels = 0;
    for (int i = 0; i < 200; ++i) {
        INFO("seed " << seed << ", frame " << i);
        HandFrame whole, halves;
        for (int n = 0; n < 12; ++n) {
            const ImVec2 least{eighth(width), eighth(height)}, most{least.x + share() * 90.0F, least.y + std::floor(share() * 30.0F) + 0.125F};
            HandFrame::Box box{least, most, static_cast<ImU32>(random())};
            if (n % 3 != 0) box.uv_least = {share(), share()}, box.uv_most = {share(), share()};
            if (n % 4 == 0) box.clip = {20.0F, 10.0F, 150.0F, 60.0F};
            whole.add(box);
            halves.add_halves(box);
        }
        const Painted one(whole, letters.texture()), two(halves, letters.texture());
        for (int y = 0; y < height; ++y) {
            for (int x = 0; x < width; ++x, ++pixels) {
                // Where a place of the texture rounds otherwise, a pixel may be one off, and one more for each one over it.
                const int off = std::max({std::abs(one.red(x, y) - two.red(x, y)), std::abs(one.green(x, y) - two.green(x, y)), std::abs(one.blue(x, y) - two.blue(x, y))});
                CHECK(off <= 2);
                if (off != 0) ++apart;
            }
        }
    }
    CHECK(apart < pixels / 200);
}

TEST_CASE("pixel painter: parts are painted, cut at their edges and at clip rectangles, the rest is left alone", "[gui]") {
    HandFrame frame;
    frame.add({{0.0F, 0.0F}, {400.0F, 0.0F}, {0.0F, 400.0F}, white, {40.0F, 3.0F, 120.0F, 40.0F}});
    PixelPainter painter;
    HandFrame none;
    painter.paint(none.data(), {{0, 0, width, height}}, 0xFF0000FFU, Spot().texture());
    painter.paint(frame.data(), {{32, 0, 64, 16}, {96, 32, 160, 48}}, black, Spot().texture());
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            const bool part = (x >= 32 && x < 64 && y < 16) || (x >= 96 && x < 160 && y >= 32 && y < 48);
            const bool shape = x >= 40 && x < 120 && y >= 3 && y < 40;
            REQUIRE(painter.pixels()[static_cast<std::size_t>(y * width + x)] == (!part ? 0xFFFF0000U : shape ? white : black));
        }
    }
}

TEST_CASE("pixel painter: two threads paint the very pixels that one paints", "[gui][random]") {
    constexpr unsigned seed = 33;
    std::mt19937 random(seed);
    for (int round = 0; round < 10; ++round) {
        INFO("seed " << seed << ", round " << round);
        const Letters letters(static_cast<unsigned>(random()));
        HandFrame frame;
        constexpr int triangles = 400;  // over each other, enough for a second thread
        for (int i = 0; i < triangles; ++i) {
            const std::array<ImDrawVert, 3> t = make_triangle(random);
            frame.add({t[0].pos, t[1].pos, t[2].pos});
            for (std::size_t n = 0; n < 3; ++n) frame.corner(3 * i + static_cast<int>(n)) = t[n];
        }
        for (const std::vector<PixelBox>& parts : {std::vector<PixelBox>{{0, 0, width, height}}, {{0, 0, 160, 16}, {32, 32, 192, 90}}}) {
            PixelPainter one, two;
            HandFrame none;
            for (PixelPainter* painter : {&one, &two}) painter->paint(none.data(), {{0, 0, width, height}}, 0xFF0000FFU, letters.texture());
            one.paint(frame.data(), parts, black, letters.texture(), 1);
            two.paint(frame.data(), parts, black, letters.texture(), 2);
            REQUIRE(one.pixels() == two.pixels());
        }
    }
}

TEST_CASE("pixel painter: corners far outside or nowhere, and triangles without an area", "[gui]") {
    constexpr float nan = std::numeric_limits<float>::quiet_NaN(), inf = std::numeric_limits<float>::infinity();
    HandFrame frame;
    for (const float far : {1.0e6F, 1.0e30F, inf, -inf, nan}) {
        frame.add({{far, 10.0F}, {20.0F, far}, {30.0F, 30.0F}, half_white});
        frame.add({{5.0F, 5.0F}, {far, far}, {5.0F, 5.0F}, half_white});
        frame.corner(0).uv = {far, far};
    }
    frame.add({{5.5F, 5.5F}, {25.5F, 25.5F}, {15.5F, 15.5F}, white}).add({{7.5F, 1.5F}, {7.5F, 1.5F}, {7.5F, 1.5F}, white});
    CHECK_NOTHROW(Painted(frame));
    HandFrame wide;
    wide.add({{-9.0e4F, -9.0e4F}, {9.0e4F, -9.0e4F}, {0.5F * width, 9.0e4F}, white});
    const Painted painted(wide);
    CHECK(std::all_of(painted.pixels().begin(), painted.pixels().end(), [](std::uint32_t p) { return p == white; }));
}

}  // namespace hitchwright::test
