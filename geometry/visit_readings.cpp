#include "geometry/visit_readings.h"

namespace hitchwright {

namespace {

struct ReadingVisitor {
    const ReadingUse& use;
    std::string prefix;

    std::string key(const char* name) const { return prefix.empty() ? name : prefix + "." + name; }

    void reading(const char* name, Reading& r, const FieldSpec& spec) { use(key(name), r, spec); }
    template <class E, std::size_t N>
    void choice(const char*, E&, const ChoiceName<E> (&)[N], const char*) {}
    void text(const char*, std::string&, const char*) {}
    void whole(const char*, int&, int, int, const char*) {}
    void whole_list(const char*, std::vector<int>&, int, int, const char*) {}
    void flag(const char*, bool&, const char*) {}
    template <class M>
    void table(const char* name, M&& members) {
        ReadingVisitor inner{use, key(name)};
        members(inner);
    }
    template <class M>
    void optional_table(const char* name, bool& present, M&& members) {
        if (present) table(name, members);
    }
    template <class T, class M>
    void list(const char* name, std::vector<T>& items, M&& item, const char*) {
        for (std::size_t i = 0; i < items.size(); ++i) {
            const std::string id = items[i].name.empty() ? std::to_string(i + 1) : items[i].name;
            ReadingVisitor inner{use, key(name) + "[" + id + "]"};
            item(items[i], inner);
        }
    }
};

template <class T>
void visit_part(T& part, const char* prefix, const ReadingUse& use) {
    ReadingVisitor visitor{use, prefix};
    visit_fields(part, visitor);
}

}  // namespace

void visit_readings(Setup& setup, const ReadingUse& use) {
    visit_part(setup.tractor, "tractor", use);
    visit_part(setup.implement, "implement", use);
    if (setup.has_driveline) visit_part(setup.driveline, "driveline", use);
    visit_parts(setup.parts, [&use](const char* key, auto& part) {
        if (part.fitted) visit_part(part, key, use);
    });
    visit_part(setup.choices, "choices", use);
    ReadingVisitor own{use, {}};
    visit_setup_own(setup.job, setup.direct_readings, setup.pose_readings, setup.turn_readings, own);
}

}  // namespace hitchwright
