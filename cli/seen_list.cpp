// See seen_list.h.
#include "cli/seen_list.h"

namespace hitchwright {
namespace {

// clang-format off
constexpr SeenItem items[] = {
    {SeenKind::tail_height,       "Tail stands higher or lower than the set-up says", "tail", "high", "low", true, true, true},
    {SeenKind::front_height,      "Front edge stands higher or lower", "front edge", "high", "low", true, true, true},
    {SeenKind::pitch,             "Implement stands nose down or nose up", "pitch", "nose down", "nose up", true, true, true},
    {SeenKind::ball_height,       "Lower hitch points stand higher or lower", "ball height", "high", "low", true, false, true},
    {SeenKind::shaft_distance,    "Shaft is longer or shorter between its joints", "shaft distance", "long", "short", true, true, true},
    {SeenKind::gap,               "Gap left in the shaft, as read", "gap", nullptr, nullptr, true, true, true},
    {SeenKind::overlap,           "Overlap of the shaft, as read", "overlap", nullptr, nullptr, true, true, true},
    {SeenKind::drawbar_length,    "Drawbar length, as read", "drawbar length", nullptr, nullptr, false, true, false},
    {SeenKind::knocks,            "Shaft knocks, bottoms out", "shaft knocks", nullptr, nullptr, true, true, true},
    {SeenKind::comes_apart,       "Shaft comes apart", "shaft comes apart", nullptr, nullptr, true, true, true},
    {SeenKind::chatters,          "Shaft chatters, shakes", "chatters", nullptr, nullptr, true, true, true},
    {SeenKind::tail_drags,        "Tail drags on the ground", "tail drags", nullptr, nullptr, true, true, true},
    {SeenKind::deck_touches,      "Deck touches the shaft's guard", "deck touches the shaft", nullptr, nullptr, true, true, true},
    {SeenKind::link_too_short,    "Upper link is too short", "upper link too short", nullptr, nullptr, true, false, false},
    {SeenKind::link_too_long,     "Upper link is too long", "upper link too long", nullptr, nullptr, true, false, false},
    {SeenKind::link_out_of_reach, "Upper link will not reach", "upper link will not reach", nullptr, nullptr, true, false, false},
    {SeenKind::tyre_meets_tongue, "Tyre meets the tongue in a turn", "tyre meets the tongue", nullptr, nullptr, false, true, false},
    {SeenKind::will_not_lift,     "Tractor will not lift it", "will not lift", nullptr, nullptr, true, false, false},
};
// clang-format on

}  // namespace

std::span<const SeenItem> seen_items() { return items; }

bool is_there(const SeenItem& item, const Setup& setup) {
    return setup.implement.attachment == Attachment::drawn ? item.drawn : item.mounted;
}

std::vector<SeenSpot> list_spots(const SeenItem& item, const Setup& setup) {
    std::vector<SeenSpot> spots{{"anywhere", ""}};
    if (!item.at_lift) return spots;
    if (item.kind == SeenKind::ball_height) return {{"lowest", "lowest"}, {"raised", "raised"}};
    if (setup.implement.attachment == Attachment::drawn) {
        spots.insert(spots.end(), {{"straight and level", "straight"}, {"in dips", "in dips"}, {"in turns", "in turns"}});
        return spots;
    }
    spots.insert(spots.end(), {{"at working height", "at working height"}, {"lowest", "lowest"}, {"raised", "raised"}});
    return spots;
}

std::string compose_seen(const SeenItem& item, const std::string& number, bool more, const SeenSpot& spot) {
    std::string text = item.phrase;
    if (!is_complaint(item.kind)) text += (item.more == nullptr ? " is " : " ") + number;
    if (item.more != nullptr) text += std::string(" ") + (more ? item.more : item.less);
    if (*spot.phrase != '\0') text += std::string(" ") + spot.phrase;
    return text;
}

}  // namespace hitchwright
