// See switch_options.h.
#include "cli/switch_options.h"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "presets/load_machine.h"
#include "presets/load_setup.h"
#include "presets/shaft_candidates.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr const char* option = "--switch";

class SwitchReader {
public:
    SwitchReader(const CommandContext& context, const CommonValues& common, const Setup& setup)
        : context_(context), common_(common), setup_(setup), known_(list_variants(setup)) {}

    Switches run() {
        const auto typed = context_.arguments.options.find(option);
        if (typed == context_.arguments.options.end()) return {};
        for (const std::string& text : typed->second) read(text);
        return std::move(found_);
    }

private:
    void refuse(const std::string& typed, std::string_view why) {
        std::vector<std::string> words;
        for (const Variant& v : known_) words.push_back(format_switch(v));
        if (setup_.implement.pic.fitted) words.emplace_back("driveline=NAME");
        const std::string allowed = words.empty() ? "this set-up has nothing to switch" : "allowed here: " + join_words(words);
        found_.usage.push_back({option, fmt::format("{}: {}; {}", in_quotes(typed), why, allowed), {}});
    }

    void read(const std::string& text) {
        const std::size_t equals = text.find('=');
        const std::string word = text.substr(0, equals), value = equals == std::string::npos ? std::string() : text.substr(equals + 1);
        VariantKind kind{};
        if (!find_variant_kind(word, kind)) return refuse(text, "no such switch");
        const auto same = [&](const Variant& v) { return v.kind == kind; };
        if (std::any_of(found_.variants.begin(), found_.variants.end(), same)) return refuse(text, "switched twice");
        if (is_part(kind) && equals != std::string::npos) return refuse(text, "a part takes no value: it is put on, or taken off where it is fitted");
        if (!is_part(kind) && equals == std::string::npos) return refuse(text, "it wants a name behind =");
        if (kind == VariantKind::driveline) return read_shaft(text, value);
        const auto found = std::find_if(known_.begin(), known_.end(), [&](const Variant& v) { return v.kind == kind && (is_part(kind) || v.to == value); });
        if (found != known_.end()) return found_.variants.push_back(*found);
        refuse(text, is_part(kind) ? "the set-up has no measures of it" : "not in the list, or what the set-up has already");
    }

    /// The set-up once more with that shaft, so that it is found and completed as a set-up file's would be.
    void read_shaft(const std::string& text, const std::string& name) {
        if (!setup_.implement.pic.fitted) return refuse(text, "the implement has no PTO input");
        if (name.empty() || name == "none") return refuse(text, "it wants the name of a shaft behind =");
        if (setup_.has_driveline && name == setup_.driveline.key) return refuse(text, "the set-up has it already");
        // What was set of the own shaft is not set of the other.
        std::vector<std::string> sets = common_.sets;
        std::erase_if(sets, [](const std::string& set) { return set.starts_with("driveline."); });
        for (const std::string& set : {"driveline.use=" + name, std::string("choices.cut_tractor_half="), std::string("choices.cut_implement_half=")}) sets.push_back(set);
        LoadedSetup loaded = load_setup(context_.arguments.name(0), context_.library, {sets, common_.rules});
        if (!loaded.ok()) {
            found_.problems.insert(found_.problems.end(), loaded.problems.begin(), loaded.problems.end());
            return;
        }
        found_.variants.push_back({VariantKind::driveline, false, setup_.has_driveline ? setup_.driveline.key : std::string(), name, loaded.setup.driveline});
    }

    const CommandContext& context_;
    const CommonValues& common_;
    const Setup& setup_;
    const std::vector<Variant> known_;
    Switches found_;
};

}  // namespace

Switches read_switches(const CommandContext& context, const CommonValues& common, const Setup& setup) {
    return SwitchReader(context, common, setup).run();
}

std::vector<ShaftCandidate> list_library_shafts(const CommandContext& context, const Setup& setup) {
    if (!setup.implement.pic.fitted) return {};
    std::vector<Problem> problems;
    const std::vector<Driveline> shafts = load_machines<Driveline>(FileKind::driveline, context.library, problems);
    if (context.prompts != nullptr && !problems.empty()) {
        Failure left_out;
        left_out.message = "left out, a listed driveline that cannot be read";
        left_out.problems = problems;
        *context.prompts << format_failure(left_out);
    }
    return list_shaft_candidates(setup, shafts);
}

}  // namespace hitchwright
