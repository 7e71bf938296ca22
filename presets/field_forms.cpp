#include "presets/field_forms.h"

#include <algorithm>
#include <utility>

#include "geometry/setup_fields.h"
#include "presets/number_text.h"
#include "presets/setup_draft.h"

namespace hitchwright {
namespace {

using Forms = std::map<std::string, FieldForm, std::less<>>;

/// The visitor behind `setup_field_forms`.
class FormCollector {
public:
    FormCollector(Forms& forms, std::string prefix) : forms_(forms), prefix_(std::move(prefix)) {}

    void reading(const char* key, Reading&, const FieldSpec&) { add(key, FieldForm::reading); }
    template <class E, std::size_t N>
    void choice(const char* key, E&, const ChoiceName<E> (&)[N], const char*) {
        add(key, FieldForm::word);
    }
    void text(const char* key, std::string&, const char*) { add(key, FieldForm::text); }
    void whole(const char* key, int&, int, int, const char*) { add(key, FieldForm::whole); }
    void whole_list(const char* key, std::vector<int>&, int, int, const char*) { add(key, FieldForm::whole_list); }
    void flag(const char* key, bool&, const char*) { add(key, FieldForm::flag); }
    template <class F>
    void table(const char* key, F&& visit_members) {
        FormCollector inner(forms_, prefix_ + key + ".");
        visit_members(inner);
    }
    template <class F>
    void optional_table(const char* key, bool&, F&& visit_members) {
        table(key, visit_members);
    }
    template <class T, class F>
    void list(const char* key, std::vector<T>&, F&& visit_item, const char*) {
        FormCollector inner(forms_, prefix_ + key + ".");
        T item{};
        visit_item(item, inner);
    }

private:
    void add(const char* key, FieldForm form) { forms_[prefix_ + key] = form; }

    Forms& forms_;
    std::string prefix_;
};

Forms collect_forms() {
    Forms forms{{"name", FieldForm::text}, {"note", FieldForm::text}, {"rules", FieldForm::text},
                {"tractor.use", FieldForm::text}, {"implement.use", FieldForm::text}, {"driveline.use", FieldForm::text}};
    Setup s;
    visit_fields(s.tractor, FormCollector(forms, "tractor."));
    visit_fields(s.implement, FormCollector(forms, "implement."));
    visit_fields(s.driveline, FormCollector(forms, "driveline."));
    visit_fields(s.choices, FormCollector(forms, "choices."));
    visit_setup_own(s.job, s.direct_readings, s.pose_readings, s.turn_readings, FormCollector(forms, {}));
    visit_parts(s.parts,
                [&](const char* key, auto& part) { visit_fields(part, FormCollector(forms, std::string(key) + ".")); });
    return forms;
}

bool is_whole(std::string_view text) { return is_toml_number(text) && text.find('.') == std::string_view::npos; }

// A whole number as TOML takes it: no zeros before it.
std::string format_whole(std::string_view typed) {
    std::string_view text = trim(typed);
    const bool negative = text.starts_with('-');
    text.remove_prefix(negative ? 1 : 0);
    while (text.size() > 1 && text.front() == '0') text.remove_prefix(1);
    return (negative ? "-" : "") + std::string(text);
}

std::string format_whole_list(std::string_view typed) {
    std::string list = "[";
    while (true) {
        const std::size_t comma = typed.find(',');
        list += (list.size() > 1 ? ", " : "") + format_whole(typed.substr(0, comma));
        if (comma == std::string_view::npos) return list + "]";
        typed.remove_prefix(comma + 1);
    }
}

std::string format_quoted(std::string_view typed, std::string_view old) {
    const bool single = old.starts_with('\'') && !old.starts_with("'''");
    const bool plain = std::none_of(typed.begin(), typed.end(), [](char c) {
        return c == '\'' || static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
    });
    return single && plain ? "'" + std::string(typed) + "'" : quote_toml(std::string(typed));
}

}  // namespace

const std::map<std::string, FieldForm, std::less<>>& setup_field_forms() {
    static const Forms forms = collect_forms();
    return forms;
}

std::string format_literal(FieldForm form, std::string_view typed, std::string_view old) {
    switch (form) {
        case FieldForm::reading:
            return is_toml_number(typed) ? std::string(typed) : format_quoted(typed, old);
        case FieldForm::whole:
            return format_whole(typed);
        case FieldForm::whole_list:
            return format_whole_list(typed);
        case FieldForm::flag:
            return std::string(typed);
        case FieldForm::word:
        case FieldForm::text:
            break;
    }
    return is_whole(old) && is_whole(typed) ? std::string(typed) : format_quoted(typed, old);
}

}  // namespace hitchwright
