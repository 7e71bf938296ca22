// How far readings may be off, as JSON; see json_parts.h.
#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

JsonValue make_side_json(const RoomSide& side, double per_si) {
    JsonObject o;
    o.number("searched", side.searched * per_si).number("holds", side.holds * per_si);
    if (side.changes) o.number("changes_at", side.changes_at * per_si).add("verdict", verdict_word(side.verdict));
    else o.add("changes_at", JsonValue()).add("verdict", JsonValue());
    return o.add("comes_back", side.comes_back).build();
}

}  // namespace

JsonValue make_how_far_json(const std::vector<ReadingRoom>& rooms) {
    JsonArray list;
    for (const ReadingRoom& room : rooms) {
        const EdgeUnit unit = find_edge_unit(room.spec.dimension);
        JsonObject o;
        o.add("key", room.key).number("value", room.reading.value * unit.per_si).add("unit", unit.name);
        if (room.error > 0.0) o.number("error", room.error * unit.per_si);
        else o.add("error", JsonValue());
        o.add("origin", origin_word(room.reading.origin)).add("idle", room.idle);
        o.add("lower", make_side_json(room.lower, unit.per_si)).add("higher", make_side_json(room.higher, unit.per_si));
        list.push_back(o.build());
    }
    return list;
}

}  // namespace hitchwright
