// Scan, then halving; see verdict_room.h.
#include "geometry/verdict_room.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

constexpr double errors_searched = 10.0;
constexpr double share_searched = 0.25;         // of the value, where no error is known
constexpr double share_of_error = 1.0 / 100.0;  // to which the change is found
constexpr double step_slack = 1e-12;            // a reading at the very end of its range

double find_reach(const Reading& r, double error) {
    return error > 0.0 ? errors_searched * error : share_searched * std::fabs(r.value);
}

/// Reach to one side without leaving the range of the possible.
double limit_reach(double reach, double room) { return room > step_slack ? std::min(reach, room) : 0.0; }

/// The reading of that name, with what is known about it; nothing for a key that is none.
std::optional<ReadingRoom> find_reading(const Setup& setup, std::string_view key) {
    std::optional<ReadingRoom> room;
    Setup copy = setup;
    visit_readings(copy, [&](const std::string& found, const Reading& r, const FieldSpec& spec) {
        if (room || !r.known || found != key) return;
        room.emplace();
        room->key = found;
        room->reading = r;
        room->spec = spec;
    });
    if (!room) return room;
    room->error = room->reading.tolerance > 0.0 ? room->reading.tolerance : room->spec.tolerance;
    const double reach = find_reach(room->reading, room->error);
    room->precision = share_of_error * (room->error > 0.0 ? room->error : reach / errors_searched);
    return room;
}

}  // namespace

FindingName name_finding(const Finding& finding) { return {finding.kind, finding.subject}; }

std::optional<Severity> find_severity(const Analysis& analysis, const FindingName& name) {
    for (const Finding& f : analysis.findings) {
        if (name_finding(f) == name) return f.severity;  // worst first
    }
    return std::nullopt;
}

std::vector<std::string> list_room_keys(const Setup& setup) {
    Setup copy = setup;
    std::vector<std::string> keys;
    visit_readings(copy, [&](const std::string& key, const Reading& r, const FieldSpec&) {
        if (r.known) keys.push_back(key);
    });
    return keys;
}

bool move_reading(Setup& setup, std::string_view key, double value) {
    bool moved = false;
    visit_readings(setup, [&](const std::string& found, Reading& r, const FieldSpec&) {
        if (moved || !r.known || found != key) return;
        r.value = value;
        moved = true;
    });
    return moved;
}

/// The answers to one side: index 0 is the reading itself.
struct RoomSearch::Scan {
    std::vector<double> distance;
    std::vector<Seen> seen;
};

RoomSearch::RoomSearch(Setup setup, const Mark& mark, std::vector<std::string> keys, std::optional<FindingName> finding)
    : setup_(std::move(setup)), mark_(mark), keys_(std::move(keys)), finding_(std::move(finding)) {
    std::erase_if(keys_, [&](const std::string& key) { return !find_reading(setup_, key); });
}

// The answer at a change of the reading at hand; null: it has to be looked at first.
const RoomSearch::Seen* RoomSearch::look(double change) {
    const auto found = seen_.find(change);
    if (found != seen_.end()) return &found->second;
    wanted_ = change;
    return nullptr;
}

// Everything is gone through anew each time, up to the first answer that is not there yet.
bool RoomSearch::step() {
    if (!begun_) {
        begun_ = true;
        now_ = analyze_alone(setup_, mark_, BandEffort::second_order).findings;
        return !finished();
    }
    if (finished()) return false;
    if (seen_.empty()) room_ = *find_reading(setup_, key());
    wanted_.reset();
    ReadingRoom room = room_;
    if (find_room(room)) {
        rooms_.push_back(std::move(room));
        seen_.clear();
        ++place_;
        return !finished();
    }
    const double change = *wanted_;
    move_reading(setup_, key(), room_.reading.value + change);
    const Analysis a = analyze_alone(setup_, mark_, BandEffort::second_order);
    move_reading(setup_, key(), room_.reading.value);
    seen_[change] = {a.verdict, finding_ ? find_severity(a, *finding_) : std::nullopt, a.findings == now_};
    return true;
}

bool RoomSearch::scan(double reach, int sign, Scan& scan) {
    for (int i = 0; i <= scan_steps && (i == 0 || reach > 0.0); ++i) {
        const double share = static_cast<double>(i) / scan_steps;
        const Seen* seen = look(sign * reach * share * share);
        if (seen == nullptr) return false;
        scan.distance.push_back(reach * share * share);
        scan.seen.push_back(*seen);
    }
    return true;
}

template <class Same>
bool RoomSearch::find_side(const Scan& scan, int sign, double precision, const Same& same, RoomSide& side) {
    side.searched = scan.distance.back();
    const auto other = std::find_if_not(scan.seen.begin(), scan.seen.end(), same);
    if (other == scan.seen.end()) {
        side.holds = side.searched;
        side.verdict = scan.seen.back().verdict;
        side.severity = scan.seen.back().severity;
        return true;
    }
    const auto i = static_cast<std::size_t>(other - scan.seen.begin());
    double inside = scan.distance[i - 1], outside = scan.distance[i];
    Seen there = *other;
    while (outside - inside > precision) {
        const double middle = inside + (outside - inside) / 2.0;
        if (middle <= inside || middle >= outside) break;
        const Seen* seen = look(sign * middle);
        if (seen == nullptr) return false;
        if (same(*seen)) inside = middle;
        else outside = middle, there = *seen;
    }
    side.changes = true;
    side.holds = inside;
    side.changes_at = outside;
    side.comes_back = std::any_of(other, scan.seen.end(), same);
    side.verdict = there.verdict;
    side.severity = there.severity;
    return true;
}

bool RoomSearch::find_room(ReadingRoom& room) {
    const Reading& r = room.reading;
    room.asked_finding = finding_.has_value();
    const double reach = find_reach(r, room.error);
    const double down = limit_reach(reach, r.value - room.spec.least), up = limit_reach(reach, room.spec.most - r.value);
    const Seen *low = look(-down), *high = low == nullptr ? nullptr : look(up);
    if (high == nullptr) return false;
    room.idle = low->untouched && high->untouched;
    if (room.idle) {
        room.lower = room.finding_lower = {down, false, down, 0.0, false, low->verdict, low->severity};
        room.higher = room.finding_higher = {up, false, up, 0.0, false, high->verdict, high->severity};
        return true;
    }
    for (const int sign : {-1, 1}) {
        Scan all;
        if (!scan(sign < 0 ? down : up, sign, all)) return false;
        const Seen now = all.seen.front();
        const auto same_verdict = [&](const Seen& s) { return s.verdict == now.verdict; };
        const auto same_severity = [&](const Seen& s) { return s.severity == now.severity; };
        if (!find_side(all, sign, room.precision, same_verdict, sign < 0 ? room.lower : room.higher)) return false;
        if (!finding_) continue;
        RoomSide& side = sign < 0 ? room.finding_lower : room.finding_higher;
        if (!find_side(all, sign, room.precision, same_severity, side)) return false;
    }
    return true;
}

std::optional<ReadingRoom> find_reading_room(const Setup& setup, const Mark& mark, std::string_view key,
                                             const std::optional<FindingName>& finding) {
    RoomSearch search(setup, mark, {std::string(key)}, finding);
    while (search.step()) {}
    return search.rooms().empty() ? std::nullopt : std::optional(search.rooms().front());
}

std::optional<double> find_least_room(const ReadingRoom& room) {
    std::optional<double> least;
    const RoomSide& a = room.asked_finding ? room.finding_lower : room.lower;
    const RoomSide& b = room.asked_finding ? room.finding_higher : room.higher;
    for (const RoomSide* side : {&a, &b}) {
        if (side->changes && (!least || side->holds < *least)) least = side->holds;
    }
    return least;
}

bool is_tighter(const ReadingRoom& a, const ReadingRoom& b) {
    const std::optional<double> room_a = find_least_room(a), room_b = find_least_room(b);
    if (room_a.has_value() != room_b.has_value()) return room_a.has_value();
    if (!room_a) return false;
    if ((a.error > 0.0) != (b.error > 0.0)) return a.error > 0.0;
    const auto share = [](const ReadingRoom& r, double least) {
        return r.error > 0.0 ? least / r.error : least / std::max(std::fabs(r.reading.value), 1e-9);
    };
    return share(a, *room_a) < share(b, *room_b);
}

}  // namespace hitchwright
