// Method: one visitor over the field list asks the rules about every key and keeps what the job needs.
#include "geometry/measuring_round.h"

#include <algorithm>

#include "geometry/measuring_rules.h"

namespace hitchwright {
namespace {

template <class T>
void name_items(std::vector<T>& items, std::initializer_list<const char*> names) {
    for (const char* name : names) {
        items.emplace_back();
        items.back().name = name;
    }
}

// The set-up with something to write on in each list.
Setup fill_lists(const Setup& setup, const MeasuringJob& job) {
    Setup filled = setup;
    if (setup.tractor.upper_link_pins.empty()) name_items(filled.tractor.upper_link_pins, {"1", "2", "3"});
    if (setup.implement.mast_pins.empty()) name_items(filled.implement.mast_pins, {"1", "2"});
    if (setup.implement.points.empty()) name_items(filled.implement.points, {"front edge", "rear end"});
    if (setup.implement.ground_contacts.empty()) name_items(filled.implement.ground_contacts, {"wheel or skid"});
    if (setup.tractor.cab_line.empty()) name_items(filled.tractor.cab_line, {"top", "foot"});
    filled.implement.pic.fitted = job.driven;
    filled.has_driveline = job.driven;
    return filled;
}

// A key no rule knows stands where its machine is.
MeasuringRule fallback_rule(std::string_view plain) {
    if (plain.starts_with("implement.")) return {Station::outline, Asked::if_given};
    if (plain.starts_with("driveline.")) return {Station::shaft_on_bench, Asked::if_given};
    return {Station::rear_axle, Asked::if_given};
}

/// What the visitor is told and fills.
struct Gathering {
    const Setup& setup;  ///< as given
    const MeasuringJob& job;
    const GivenKeys& given;
    std::vector<MeasuringItem>& items;
};

/// The visitor; see setup_fields.h for what one is.
class ItemCollector {
public:
    ItemCollector(Gathering& to, std::string prefix, std::string item = {}, bool offered_item = false)
        : to_(to), prefix_(std::move(prefix)), item_(std::move(item)), offered_item_(offered_item) {}

    void reading(const char* name, Reading& r, const FieldSpec& spec) {
        MeasuringItem item = start(name, ItemForm::reading, spec.measure);
        item.spec = spec;
        item.reading = r;
        keep(std::move(item), spec.need);
    }
    template <class E, std::size_t N>
    void choice(const char* name, E& value, const ChoiceName<E> (&names)[N], const char* what) {
        MeasuringItem item = start(name, ItemForm::choice, what);
        const auto given = to_.given.find(item.key);
        for (const ChoiceName<E>& n : names) {
            const std::string_view word = n.word;
            if (word != "unknown") item.words.emplace_back(word);
            const bool told = given != to_.given.end() || !(n.value == E{});
            if (n.value == value && told && word != "unknown") item.value = word;
        }
        keep(std::move(item), Need::optional);
    }
    void text(const char*, std::string&, const char*) {}
    void whole(const char* name, int& value, int, int, const char* what) {
        MeasuringItem item = start(name, ItemForm::whole, what);
        if (value != 0) item.value = std::to_string(value);
        keep(std::move(item), Need::optional);
    }
    void whole_list(const char* name, std::vector<int>& values, int, int, const char* what) {
        MeasuringItem item = start(name, ItemForm::whole_list, what);
        for (const int value : values) item.value += (item.value.empty() ? "" : ", ") + std::to_string(value);
        keep(std::move(item), Need::optional);
    }
    void flag(const char*, bool&, const char*) {}
    template <class M>
    void table(const char* name, M&& members) {
        ItemCollector inner(to_, prefix_ + "." + name, item_, offered_item_);
        members(inner);
    }
    template <class M>
    void optional_table(const char* name, bool& present, M&& members) {
        if (present) table(name, members);
    }
    template <class T, class M>
    void list(const char* name, std::vector<T>& items, M&& visit_item, const char*) {
        for (std::size_t i = 0; i < items.size(); ++i) {
            const std::string id = items[i].name.empty() ? std::to_string(i + 1) : items[i].name;
            const std::string path = prefix_ + "." + name + "[" + id + "]";
            // One hole is enough for an answer; what nobody listed yet is only offered.
            const bool hole = std::string_view(name) == "upper_link_pin" || std::string_view(name) == "mast_pin";
            ItemCollector inner(to_, path, id, is_offered(path) && !(hole && i == 0));
            visit_item(items[i], inner);
        }
    }

private:
    bool is_offered(const std::string& path) const {
        const Tractor& t = to_.setup.tractor;
        const Implement& m = to_.setup.implement;
        return (path.starts_with("tractor.upper_link_pin") && t.upper_link_pins.empty()) ||
               (path.starts_with("implement.mast_pin") && m.mast_pins.empty()) ||
               (path.starts_with("implement.point") && m.points.empty()) ||
               (path.starts_with("implement.ground_contact") && m.ground_contacts.empty()) ||
               (path.starts_with("tractor.cab_line") && t.cab_line.empty());
    }

    MeasuringItem start(const char* name, ItemForm form, const char* what) const {
        MeasuringItem item;
        item.key = prefix_ + "." + name;
        item.plain = find_plain_key(item.key);
        item.item = item_;
        item.form = form;
        item.what = what;
        const auto given = to_.given.find(item.key);
        if (given != to_.given.end()) item.origin = given->second;
        return item;
    }

    void keep(MeasuringItem item, Need need) {
        const auto rule = find_measuring_rule(item.plain, to_.setup, to_.job);
        const MeasuringRule& r = rule ? *rule : fallback_rule(item.plain);
        if (r.asked == Asked::left_out || (r.asked == Asked::if_given && !item.known())) return;
        item.station = r.station;
        item.required = !offered_item_ && (r.asked == Asked::required || (r.asked == Asked::by_need && need != Need::optional));
        to_.items.push_back(std::move(item));
    }

    Gathering& to_;
    std::string prefix_, item_;
    bool offered_item_ = false;
};

template <class T>
void collect(Gathering& to, T& part, const char* prefix) {
    ItemCollector collector(to, prefix);
    visit_fields(part, collector);
}

// Taken with shaft off and compared with the computed lengths; nothing to type in.
void add_direct_checks(std::vector<MeasuringItem>& items) {
    for (const char* position : {"lever right down", "working height", "lever right up"}) {
        for (const char* what : {"floor to ball centre", "locking groove of the PTO stub to that of the input shaft, in a straight line, shaft off"}) {
            MeasuringItem item;
            item.station = Station::coupled;
            item.item = position;
            item.what = what;
            item.spec = field::length(-0.5, 5, field::floor_error, Need::optional, what);
            items.push_back(std::move(item));
        }
    }
}

bool has_lift_arm(const Tractor& t) {
    const LiftArmReadings& a = t.lift_arm;
    const LiftRodReadings& r = t.lift_rod;
    return a.pivot_x.known && a.pivot_z.known && a.length.known && a.half_spread.known && a.angle_low.known &&
           a.angle_high.known && r.length.known && r.pin_along_link.known;
}

}  // namespace

MeasuringJob find_measuring_job(const Setup& setup) {
    MeasuringJob job;
    job.mounted = setup.implement.attachment == Attachment::mounted;
    job.driven = setup.implement.pic.fitted || setup.has_driveline;
    const TravelReadings& h = setup.tractor.travel;
    job.lift_by_arm = !(h.ball_height_low.known && h.ball_height_high.known) && has_lift_arm(setup.tractor);
    const Driveline& d = setup.driveline;
    job.overlap_only = d.overlap_closed.known && !d.tractor_tube.known && !d.implement_tube.known;
    return job;
}

std::vector<MeasuringItem> list_measuring_items(const Setup& setup, const GivenKeys& given) {
    const MeasuringJob job = find_measuring_job(setup);
    Setup filled = fill_lists(setup, job);
    std::vector<MeasuringItem> items;
    Gathering to{setup, job, given, items};
    collect(to, filled.tractor, "tractor");
    collect(to, filled.implement, "implement");
    if (job.driven) collect(to, filled.driveline, "driveline");
    collect(to, filled.choices, "choices");
    if (job.driven && job.mounted) add_direct_checks(items);
    std::stable_sort(items.begin(), items.end(), [](const MeasuringItem& a, const MeasuringItem& b) { return a.station < b.station; });
    return items;
}

std::string find_plain_key(const std::string& key) {
    const std::size_t open = key.find('['), close = key.rfind(']');
    return open == std::string::npos || close == std::string::npos || close < open ? key : key.substr(0, open) + key.substr(close + 1);
}

}  // namespace hitchwright
