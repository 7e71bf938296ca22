// What of a frame is painted again: parts painted over the frame before must give the pixels of the whole.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <memory>
#include <random>
#include <vector>

#include "gui/box_join.h"
#include "gui/frame_damage.h"
#include "gui/pixel_painter.h"
#include "tests/gui/hand_frame.h"
#include "tests/gui/headless.h"

namespace hitchwright::test {
namespace {

constexpr int width = HandFrame::width, height = HandFrame::height;
constexpr ImU32 ground = 0xFF204060U;

using Frame = HandFrame;
using Shape = Frame::Shape;

const Shape low{{10, 10}, {30, 10}, {10, 12}}, far_off{{150, 60}, {190, 60}, {150, 80}};

bool is_in(const std::vector<PixelBox>& boxes, int x, int y) {
    return std::any_of(boxes.begin(), boxes.end(), [&](const PixelBox& b) { return x >= b.left && x < b.right && y >= b.top && y < b.bottom; });
}

/// What is damaged from one frame to the next.
std::vector<PixelBox> damage_between(ImDrawData& before, ImDrawData& after) {
    FrameDamage damage;
    damage.compare(before);
    return damage.compare(after);
}

/// True when the damage holds the shape's first corner and leaves the far one alone.
bool is_damaged_there(Frame& before, Frame& after) {
    const auto boxes = damage_between(before.data(), after.data());
    return is_in(boxes, 10, 10) && !is_in(boxes, 150, 60);
}

/// Shapes at random, partly outside, with clip rectangles.
std::vector<Shape> make_shapes(std::mt19937& random, int count) {
    std::uniform_real_distribution<float> x(-20.0F, width + 20.0F), y(-20.0F, height + 20.0F), step(-40.0F, 40.0F);
    std::uniform_int_distribution<std::uint32_t> colour;
    std::vector<Shape> shapes;
    for (int i = 0; i < count; ++i) {
        const ImVec2 a{x(random), y(random)};
        Shape s{a, {a.x + step(random), a.y + step(random)}, {a.x + step(random), a.y + step(random)}, colour(random) | 1U};
        if (i % 3 == 0) {
            const float left = std::floor(x(random)), top = std::floor(y(random));
            s.clip = {left, top, left + 60.0F, top + 30.0F};
        }
        shapes.push_back(s);
    }
    return shapes;
}

std::unique_ptr<Frame> make_frame(const std::vector<Shape>& shapes) {
    auto frame = std::make_unique<Frame>();
    for (const Shape& s : shapes) frame->add(s);
    return frame;
}

}  // namespace

TEST_CASE("frame damage: a frame like the one before has none, the first one is new everywhere", "[gui]") {
    Frame frame;
    frame.add(low).add(far_off);
    FrameDamage damage;
    const std::vector<PixelBox> all{{0, 0, width, height}};
    CHECK(damage.compare(frame.data()) == all);
    CHECK(damage.compare(frame.data()).empty());
    damage.forget();
    CHECK(damage.compare(frame.data()) == all);
    frame.data().DisplaySize.x += 1.0F;
    CHECK(damage.compare(frame.data()) == std::vector<PixelBox>{{0, 0, width + 1, height}});
}

TEST_CASE("frame damage: whatever of a triangle changes is seen where it is, and nowhere else", "[gui]") {
    Frame before;
    before.add(low).add(far_off);
    const auto sees = [&](auto change) {
        Shape changed = low;
        change(changed);
        Frame after;
        after.add(changed).add(far_off);
        return is_damaged_there(before, after) && is_damaged_there(after, before);
    };
    CHECK(sees([](Shape& s) { s.a.x = std::nextafter(s.a.x, 11.0F); }));
    CHECK(sees([](Shape& s) { s.b.y += 0.25F; }));
    CHECK(sees([](Shape& s) { s.colour ^= 1U; }));
    CHECK(sees([](Shape& s) { s.u += 0.125F; }));
    CHECK(sees([](Shape& s) { s.clip.x = 1.0F; }));
    CHECK(sees([](Shape& s) { s.clip.w = 20.0F; }));
    CHECK(sees([](Shape& s) { s.texture = 2; }));
    CHECK(sees([](Shape& s) { std::swap(s.a, s.b); }));
    CHECK_FALSE(sees([](Shape&) {}));
}

TEST_CASE("frame damage: whatever of a rectangle changes is seen, and that its halves are drawn one by one", "[gui]") {
    const Frame::Box box{{10, 10}, {30, 14}, 0xFF0000FFU, {0.25F, 0.25F}, {0.5F, 0.5F}};
    const auto sees = [&](auto change) {
        Frame::Box changed = box;
        change(changed);
        Frame before, after;
        before.add(box).add(far_off);
        after.add(changed).add(far_off);
        return is_damaged_there(before, after) && is_damaged_there(after, before);
    };
    CHECK(sees([](Frame::Box& b) { b.least.x += 0.25F; }));
    CHECK(sees([](Frame::Box& b) { b.most.y += 0.25F; }));
    CHECK(sees([](Frame::Box& b) { b.colour ^= 1U; }));
    CHECK(sees([](Frame::Box& b) { b.uv_least.y += 0.125F; }));
    CHECK(sees([](Frame::Box& b) { b.uv_most.x += 0.125F; }));
    CHECK(sees([](Frame::Box& b) { b.clip.z = 100.0F; }));
    CHECK_FALSE(sees([](Frame::Box&) {}));
    // A corner or a colour of its own makes it two triangles, of which each says its own.
    for (int n = 0; n < 4; ++n) {
        Frame before, after;
        before.add(box).add(far_off);
        after.add(box).add(far_off);
        after.corner(n).col ^= 0x100U;
        CHECK(is_damaged_there(before, after));
        after.corner(n).col ^= 0x100U;
        CHECK(damage_between(before.data(), after.data()).empty());
        after.corner(n).pos.y += 0.25F;
        CHECK(is_damaged_there(before, after));
    }
}

TEST_CASE("frame damage: a triangle more, one fewer, one twice, and two in another order are seen", "[gui]") {
    Shape over = low;
    over.colour = 0x80FFFFFFU;
    Frame one, both, other_order, twice;
    one.add(far_off).add(low);
    both.add(low).add(far_off).add(over);
    other_order.add(over).add(far_off).add(low);
    twice.add(low).add(low).add(far_off);
    CHECK(is_damaged_there(one, both));
    CHECK(is_damaged_there(both, one));
    CHECK(is_damaged_there(both, other_order));
    CHECK(is_damaged_there(one, twice));
    CHECK(is_damaged_there(twice, one));
    // In another order, but apart: no pixel can tell.
    Frame apart;
    apart.add(low).add(far_off);
    CHECK(damage_between(one.data(), apart.data()).empty());
}

TEST_CASE("frame damage: foreign code, a scale or a place in a frame make all of it new", "[gui]") {
    const std::vector<PixelBox> all{{0, 0, width, height}};
    Frame frame;
    frame.add(low);
    FrameDamage damage;
    damage.compare(frame.data());
    REQUIRE(damage.compare(frame.data()).empty());
    frame.data().FramebufferScale = {2.0F, 2.0F};
    CHECK(damage.compare(frame.data()) == all);
    CHECK(damage.compare(frame.data()) == all);
    frame.data().FramebufferScale = {1.0F, 1.0F};
    CHECK(damage.compare(frame.data()) == all);
    CHECK(damage.compare(frame.data()).empty());
    frame.data().DisplayPos = {0.0F, 5.0F};
    CHECK(damage.compare(frame.data()) == all);
    frame.data().DisplayPos = {};
    frame.data().CmdLists[0]->CmdBuffer[0].UserCallback = [](const ImDrawList*, const ImDrawCmd*) {};
    CHECK(damage.compare(frame.data()) == all);
    CHECK(damage.compare(frame.data()) == all);
}

TEST_CASE("frame damage: parts of random frames, painted over the ones before, give the whole ones", "[gui][random]") {
    constexpr unsigned seed = 20;
    std::mt19937 random(seed);
    FrameDamage damage;
    const Spot white;
    PixelPainter kept;
    std::vector<Shape> shapes = make_shapes(random, 40);
    int in_part = 0;
    for (int i = 0; i < 60; ++i) {
        INFO("seed " << seed << ", frame " << i);
        const auto frame = make_frame(shapes);
        const std::vector<PixelBox> boxes = damage.compare(frame->data());
        if (boxes != std::vector<PixelBox>{{0, 0, width, height}}) ++in_part;
        kept.paint(frame->data(), boxes, ground, white.texture());
        PixelPainter whole;
        whole.paint(frame->data(), {{0, 0, width, height}}, ground, white.texture());
        REQUIRE(kept.pixels() == whole.pixels());
        std::swap(shapes[random() % shapes.size()], shapes[random() % shapes.size()]);
        shapes[random() % shapes.size()] = make_shapes(random, 1).front();
        if (i % 4 == 0) shapes.erase(shapes.begin() + static_cast<std::ptrdiff_t>(random() % shapes.size()));
        if (i % 4 == 2) shapes.push_back(make_shapes(random, 1).front());
    }
    CHECK(in_part == 59);
}

TEST_CASE("joined boxes: none lies over another, every tile is in one, and no two cost less as one", "[gui][random]") {
    constexpr unsigned seed = 21;
    std::mt19937 random(seed);
    std::uniform_int_distribution<> place(0, 30), step(1, 6), cost(0, 60);
    const auto tiles = [](const PixelBox& b) { return (b.right - b.left) * (b.bottom - b.top); };
    std::size_t before = 0, after = 0;
    for (int i = 0; i < 200; ++i) {
        INFO("seed " << seed << ", boxes " << i);
        std::vector<PixelBox> boxes;
        for (int n = 0; n < 12; ++n) {
            const int left = place(random), top = place(random);
            boxes.push_back({left, top, left + step(random), top + step(random)});
        }
        std::vector<PixelBox> joined = boxes;
        const int of_a_box = cost(random);
        join_boxes(joined, of_a_box);
        before += boxes.size();
        after += joined.size();
        for (const PixelBox& b : boxes)
            CHECK(std::any_of(joined.begin(), joined.end(), [&](const PixelBox& j) { return common(b, j) == b; }));
        for (std::size_t a = 0; a < joined.size(); ++a) {
            for (std::size_t b = a + 1; b < joined.size(); ++b) {
                const PixelBox &one = joined[a], &other = joined[b];
                CHECK(common(one, other).empty());
                const PixelBox both{std::min(one.left, other.left), std::min(one.top, other.top), std::max(one.right, other.right),
                                    std::max(one.bottom, other.bottom)};
                CHECK(tiles(both) > tiles(one) + tiles(other) + of_a_box);
            }
        }
    }
    CHECK(after < before);
    CHECK(after > 200);
}

TEST_CASE("frame damage: strewn over a large picture it is one box that holds all of it", "[gui]") {
    Frame before, after;
    for (Frame* f : {&before, &after}) f->data().DisplaySize = {3840, 2160};
    // So far apart that no two boxes are worth joining.
    int strewn = 0;
    for (float y = 200; y < 2000; y += 70) {
        for (float x = 100; x < 3700; x += 130, ++strewn)
            after.add({{x, y}, {x + 2, y}, {x, y + 2}, 0xFF0000FFU, {0, 0, 3840, 2160}});
    }
    REQUIRE(strewn > 700);
    const std::vector<PixelBox> boxes = damage_between(before.data(), after.data());
    CHECK(boxes.size() == 1);
    for (float y = 200; y < 2000; y += 70)
        for (float x = 100; x < 3700; x += 130) CHECK(is_in(boxes, static_cast<int>(x), static_cast<int>(y)));
}

TEST_CASE("frame damage: the lists of a frame are halved by their triangles, and stay as they were while that is not far off", "[analytic]") {
    std::vector<std::unique_ptr<ImDrawList>> lists;
    std::vector<ImDrawList*> pointers;
    ImDrawData frame;
    CHECK(find_half(frame, 0) == 0);
    for (const int indices : {30, 30, 60}) {
        lists.push_back(std::make_unique<ImDrawList>(nullptr));
        lists.back()->IdxBuffer.resize(indices);
        pointers.push_back(lists.back().get());
    }
    frame.CmdLists = pointers.data();
    frame.CmdListsCount = 3;
    CHECK(find_half(frame, 0) == 2);
    CHECK(find_half(frame, 2) == 2);
    CHECK(find_half(frame, 1) == 1);  // a quarter
    CHECK(find_half(frame, 3) == 2);
    lists[0]->IdxBuffer.resize(29);
    CHECK(find_half(frame, 1) == 2);
    // All in one list, which goes to one of the halves.
    frame.CmdListsCount = 1;
    CHECK(find_half(frame, find_half(frame, 0)) == find_half(frame, 0));
}

TEST_CASE("frame damage: of a window that is edited two threads see what one sees, and what both paint again gives the whole", "[gui]") {
    Headless window("utility-flail-no-cut");
    unsigned char* cover = nullptr;
    CoverTexture letters;
    ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&cover, &letters.width, &letters.height);
    letters.pixels = cover;
    FrameDamage one, two;
    PixelPainter kept;
    for (const char* pitch : {"0.25 deg", "0.5 deg", "0.25 deg"}) {
        REQUIRE(change_value(window.app(), "choices.working_pitch", pitch).empty());
        window.settle(1);
        const ImDrawData& frame = *ImGui::GetDrawData();
        REQUIRE(frame.TotalIdxCount > 3 * least_triangles_for_two);
        REQUIRE(find_half(frame, 0) > 0);
        REQUIRE(find_half(frame, 0) < frame.CmdListsCount);
        const PixelBox all{0, 0, static_cast<int>(frame.DisplaySize.x), static_cast<int>(frame.DisplaySize.y)};
        const std::vector<PixelBox> boxes = one.compare(frame);
        CHECK_FALSE(boxes.empty());
        CHECK(two.compare(frame, 2) == boxes);
        kept.paint(frame, boxes, ground, letters, 2);
        PixelPainter whole;
        whole.paint(frame, {all}, ground, letters);
        REQUIRE(kept.pixels() == whole.pixels());
    }
    CHECK(one.compare(*ImGui::GetDrawData()).empty());
}

TEST_CASE("frame damage: a window at rest has none", "[gui]") {
    Headless window("utility-cutter-fits");
    FrameDamage damage;
    damage.compare(*ImGui::GetDrawData());
    window.settle(1);
    CHECK(damage.compare(*ImGui::GetDrawData()).empty());
}

}  // namespace hitchwright::test
