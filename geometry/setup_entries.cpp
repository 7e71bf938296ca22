#include "geometry/setup_entries.h"

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <utility>

#include "geometry/specification_fields.h"

namespace hitchwright {
namespace {

/// Room for those of most set-ups, so that they are not moved while they are listed.
constexpr std::size_t usual_entries = 256;

/// Where a field is shown that nobody measures: with the part it belongs to.
Station find_station(std::string_view key, Station station) {
    if (station != Station::none) return station;
    if (key.starts_with("tractor.hitch.")) return Station::lower_links;
    if (key.starts_with("tractor.")) return Station::rear_axle;
    if (key.starts_with("implement.")) return Station::implement_pins;
    if (key.starts_with("driveline.") || key.starts_with("choices.cut_")) return Station::shaft;
    if (key.starts_with("choices.")) return Station::coupled;
    return Station::none;
}

/// The visitor behind `list_setup_entries`.
class EntryCollector {
public:
    EntryCollector(bool drawn, SetupEntries& all, std::string prefix)
        : drawn_(drawn), all_(&all), key_(prefix), pattern_(std::move(prefix)) {}

    /// All fields of an add-on part, or of the specification, stand together.
    EntryCollector& keep_at(EntryPlace place) {
        fixed_ = true;
        place_ = place;
        return *this;
    }

    void stand_at(Station station, Asked, Hitched hitched) {
        hitched_ = hitched;
        station_ = station;
    }

    void reading(const char* key, Reading& r, const FieldSpec& spec) {
        SetupEntry* e = add(key, CardForm::quantity, spec.measure_for(drawn_), r.known);
        if (e == nullptr) return;
        e->spec = spec;
        e->reading = r;
    }
    template <class E, std::size_t N>
    void choice(const char* key, E& value, const ChoiceName<E> (&names)[N], const char* what) {
        SetupEntry* e = add(key, CardForm::word, what, value != E{});
        if (e == nullptr) return;
        for (const ChoiceName<E>& name : names) {
            e->words.emplace_back(name.word);
            if (name.value == value) e->text = name.word;
        }
    }
    void text(const char* key, std::string& value, const char* what) {
        if (SetupEntry* e = add(key, CardForm::name, what, !value.empty())) e->text = value;
    }
    void whole(const char* key, int& value, int least, int most, const char* what) {
        SetupEntry* e = add(key, CardForm::whole, what, value != 0);
        if (e == nullptr) return;
        e->least = least;
        e->most = most;
        if (value != 0) e->text = std::to_string(value);
    }
    void whole_list(const char* key, std::vector<int>& values, int least, int most, const char* what) {
        SetupEntry* e = add(key, CardForm::whole_list, what, !values.empty());
        if (e == nullptr) return;
        e->least = least;
        e->most = most;
        for (const int value : values) e->text += (e->text.empty() ? "" : ", ") + std::to_string(value);
    }
    void flag(const char* key, bool& value, const char* what) {
        if (SetupEntry* e = add(key, CardForm::flag, what, value)) e->text = value ? "true" : "false";
    }
    template <class F>
    void table(const char* key, F&& visit_members) {
        EntryCollector inner = make_inner(join(key_, key), join(pattern_, key));
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool&, F&& visit_members) {
        table(key, visit_members);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>& items, F&& visit_item, const char* what) {
        if (!is_shown(!items.empty())) return;
        EntryList list{place(join(key_, key)), join(key_, key), what, {}, {}};
        for (std::size_t i = 0; i < items.size(); ++i) {
            const std::string id = items[i].name.empty() ? std::to_string(i + 1) : items[i].name;
            list.items.push_back(id);
            EntryCollector inner = make_inner(join(key_, key) + "[" + id + "]", join(pattern_, key) + "[]");
            inner.list_ = list.key;
            inner.item_ = id;
            visit_item(items[i], inner);
        }
        SetupEntries blank;
        EntryCollector inner = make_inner(list.key, join(pattern_, key) + "[]");
        inner.all_ = &blank;
        T item{};
        visit_item(item, inner);
        for (SetupEntry& e : blank.entries) {
            if (e.form == CardForm::quantity && e.spec.need == Need::file) list.new_item.push_back(std::move(e));
        }
        all_->lists.push_back(std::move(list));
    }

private:
    static std::string join(const std::string& before, const char* key) {
        return before.empty() ? key : before + "." + key;
    }

    EntryCollector make_inner(std::string key, std::string pattern) const {
        EntryCollector inner(*this);
        inner.key_ = std::move(key);
        inner.pattern_ = std::move(pattern);
        return inner;
    }

    bool is_shown(bool known) const {
        return known || hitched_ == Hitched::either || (hitched_ == Hitched::drawn) == drawn_;
    }

    EntryPlace place(const std::string& key) const {
        return fixed_ ? place_ : EntryPlace{find_station(key, station_), false};
    }

    SetupEntry* add(const char* key, CardForm form, const char* what, bool known) {
        if (!is_shown(known)) return nullptr;
        SetupEntry& e = all_->entries.emplace_back();
        e.key = join(key_, key);
        e.place = place(e.key);
        e.pattern = join(pattern_, key);
        e.list = list_;
        e.item = item_;
        e.form = form;
        e.what = what;
        e.known = known;
        return &e;
    }

    bool drawn_;
    SetupEntries* all_;
    std::string key_, pattern_, list_, item_;
    bool fixed_ = false;
    EntryPlace place_;
    Station station_ = Station::none;
    Hitched hitched_ = Hitched::either;
};

/// Stations in their order, behind them the specification and the job.
int order(const EntryPlace& place) { return 2 * static_cast<int>(place.station) + (place.specification ? -1 : 0); }

/// Moves each once: they are large.
template <class T>
void sort_by_place(std::vector<T>& all) {
    std::vector<std::size_t> order_of(all.size());
    std::iota(order_of.begin(), order_of.end(), std::size_t{0});
    std::stable_sort(order_of.begin(), order_of.end(), [&](std::size_t a, std::size_t b) { return order(all[a].place) < order(all[b].place); });
    std::vector<T> sorted;
    sorted.reserve(all.size());
    for (const std::size_t i : order_of) sorted.push_back(std::move(all[i]));
    all = std::move(sorted);
}

}  // namespace

SetupEntries list_setup_entries(const Setup& setup) {
    Setup s = setup;
    const bool drawn = s.implement.attachment == Attachment::drawn;
    SetupEntries all;
    all.entries.reserve(usual_entries);
    EntryCollector own(drawn, all, {});
    own.text("name", s.name, "name of the set-up");
    own.text("note", s.note, "free text");
    visit_fields(s.tractor, EntryCollector(drawn, all, "tractor"));
    visit_fields(s.implement, EntryCollector(drawn, all, "implement"));
    if (s.has_driveline) visit_fields(s.driveline, EntryCollector(drawn, all, "driveline"));
    visit_parts(s.parts, [&]<class Part>(const char* key, Part& part) {
        EntryCollector collector(drawn, all, key);
        collector.keep_at({Station::add_on_parts, false});
        if (part.fitted || part != Part{}) visit_fields(part, collector);
        else collector.flag("fitted", part.fitted, "the switch: a part that is fitted counts");
    });
    visit_fields(s.choices, EntryCollector(drawn, all, "choices"));
    visit_setup_own(s.job, s.direct_readings, s.pose_readings, s.turn_readings, EntryCollector(drawn, all, {}));
    EntryCollector lines(drawn, all, {});
    lines.keep_at({Station::none, true});
    visit_lines("specification", s.specification, lines);
    sort_by_place(all.entries);
    sort_by_place(all.lists);
    return all;
}

}  // namespace hitchwright
