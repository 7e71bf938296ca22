// What of a frame is drawn again, judged by a second route: pixels of a small painter here that knows of no tiles.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <memory>
#include <random>

#include "gui/frame_damage.h"
#include "gui/frame_part.h"
#include "tests/gui/headless.h"

namespace hitchwright::test {
namespace {

constexpr int width = 200, height = 90;  // no whole number of tiles
constexpr ImU32 ground = 0xFF204060U;

/// A frame put together by hand.
class Frame {
public:
    Frame() {
        list_ = std::make_unique<ImDrawList>(nullptr);
        pointer_ = list_.get();
        data_.DisplaySize = {width, height};
        data_.FramebufferScale = {1.0F, 1.0F};
        data_.CmdListsCount = 1;
        data_.CmdLists = &pointer_;
    }
    Frame(const Frame&) = delete;
    Frame& operator=(const Frame&) = delete;

    struct Shape {
        ImVec2 a, b, c;
        ImU32 colour = 0xFF0000FFU;
        ImVec4 clip = {0.0F, 0.0F, width, height};
        float u = 0.5F;
        std::uintptr_t texture = 1;
    };
    Frame& add(const Shape& s) {
        for (const ImVec2 at : {s.a, s.b, s.c}) {
            list_->IdxBuffer.push_back(static_cast<ImDrawIdx>(list_->VtxBuffer.Size));
            list_->VtxBuffer.push_back({at, {s.u, 0.5F}, s.colour});
        }
        ImDrawCmd command;
        command.ClipRect = s.clip;
        command.TextureId = reinterpret_cast<ImTextureID>(s.texture);
        command.IdxOffset = static_cast<unsigned>(list_->IdxBuffer.Size - 3);
        command.ElemCount = 3;
        list_->CmdBuffer.push_back(command);
        return *this;
    }
    ImDrawData& data() { return data_; }

private:
    std::unique_ptr<ImDrawList> list_;
    ImDrawList* pointer_ = nullptr;
    ImDrawData data_;
};

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

/// Pixels by the middle of each, without texture: a step of some chaotic mixture, so that order and number of layers show.
class Picture {
public:
    std::vector<std::uint32_t> pixels = std::vector<std::uint32_t>(width * height, 0);

    void paint(const ImDrawData& frame) {
        for (int n = 0; n < frame.CmdListsCount; ++n)
            for (const ImDrawCmd& command : frame.CmdLists[n]->CmdBuffer)
                for (unsigned i = 0; i < command.ElemCount / 3; ++i) paint(triangle_of(*frame.CmdLists[n], command, i), command);
    }
    void wipe() { std::fill(pixels.begin(), pixels.end(), ground); }

private:
    void paint(const Triangle& t, const ImDrawCmd& command) {
        // The clip rectangles here are whole numbers.
        const ImVec4 clip = command.ClipRect;
        for (int y = 0; y < height; ++y) {
            for (int x = 0; x < width; ++x) {
                const ImVec2 p{static_cast<float>(x) + 0.5F, static_cast<float>(y) + 0.5F};
                if (p.x < clip.x || p.x > clip.z || p.y < clip.y || p.y > clip.w || !holds(t, p)) continue;
                std::uint32_t& pixel = pixels[static_cast<std::size_t>(y * width + x)];
                pixel = t[0]->col == ground ? ground : 1664525U * pixel + t[0]->col;
            }
        }
    }
    static float side(ImVec2 a, ImVec2 b, ImVec2 p) { return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x); }
    static bool holds(const Triangle& t, ImVec2 p) {
        const float ab = side(t[0]->pos, t[1]->pos, p), bc = side(t[1]->pos, t[2]->pos, p), ca = side(t[2]->pos, t[0]->pos, p);
        return (ab >= 0.0F && bc >= 0.0F && ca >= 0.0F) || (ab <= 0.0F && bc <= 0.0F && ca <= 0.0F);
    }
};

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
    FramePart part;
    Picture kept;
    std::vector<Shape> shapes = make_shapes(random, 40);
    int in_part = 0;
    for (int i = 0; i < 60; ++i) {
        INFO("seed " << seed << ", frame " << i);
        const auto frame = make_frame(shapes);
        const std::vector<PixelBox> boxes = damage.compare(frame->data());
        if (boxes != std::vector<PixelBox>{{0, 0, width, height}}) ++in_part;
        kept.paint(part.take(frame->data(), boxes, {ground, {}, {0.5F, 0.5F}}));
        Picture whole;
        whole.wipe();
        whole.paint(frame->data());
        REQUIRE(kept.pixels == whole.pixels);
        std::swap(shapes[random() % shapes.size()], shapes[random() % shapes.size()]);
        shapes[random() % shapes.size()] = make_shapes(random, 1).front();
        if (i % 4 == 0) shapes.erase(shapes.begin() + static_cast<std::ptrdiff_t>(random() % shapes.size()));
        if (i % 4 == 2) shapes.push_back(make_shapes(random, 1).front());
    }
    CHECK(in_part == 59);
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

TEST_CASE("frame damage: a window at rest has none, and a part holds what touches its boxes and little more", "[gui]") {
    Headless window("utility-cutter-fits");
    FrameDamage damage;
    damage.compare(*ImGui::GetDrawData());
    window.settle(1);
    CHECK(damage.compare(*ImGui::GetDrawData()).empty());
    ImDrawData& frame = *ImGui::GetDrawData();
    FramePart part;
    const ImDrawData& all = part.take(frame, {{0, 0, static_cast<int>(frame.DisplaySize.x), static_cast<int>(frame.DisplaySize.y)}}, {});
    CHECK(all.TotalIdxCount <= frame.TotalIdxCount + 6);
    const int whole = all.TotalIdxCount;
    const ImDrawData& corner = part.take(frame, {{0, 0, TileGrid::tile_width, TileGrid::tile_height}}, {});
    CHECK(corner.TotalIdxCount >= 6);
    CHECK(corner.TotalIdxCount < whole / 20);
    CHECK(part.take(frame, {}, {}).CmdListsCount == 0);
}

}  // namespace hitchwright::test
