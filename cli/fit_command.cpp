// fit, sweep.
#include <algorithm>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/setup_input.h"
#include "geometry/do_both.h"
#include "geometry/verdict_room.h"
#include "report/finding_csv.h"
#include "report/fit_report.h"
#include "report/how_far_text.h"
#include "report/json_writer.h"
#include "report/trust_blocks.h"
#include "report/variant_text.h"
#include "report/sweep_table.h"

namespace hitchwright {
namespace {

constexpr int least_steps = 2;
constexpr int most_steps = 1001;
constexpr int usual_steps = 11;

/// What is shown beside the findings.
struct FitExtras {
    bool explain = false;
    bool trust = false;
    std::optional<std::vector<ReadingRoom>> rooms;  ///< empty: nobody asked
    std::optional<std::vector<VariantAnswer>> variants;  ///< the same
};

/// Few words: "compare" has more.
std::string format_variant_section(const VariantStudy& study, const TextStyle& style) {
    constexpr std::size_t most_flips = 2;
    AnswerBuilder out(style);
    add_variants(out, study, most_flips);
    return format_blocks(out.take(), style);
}

std::string format_trust_section(const Analysis& analysis, const TextStyle& style) {
    AnswerBuilder out(style);
    add_trust(out, analysis);
    return format_blocks(out.take(), style);
}

std::string format_fit(const Setup& setup, const Analysis& analysis, const CommonValues& common, bool colour,
                       const FitExtras& extras) {
    const TextStyle style{common.units, page_width, colour};
    std::optional<VariantStudy> study;
    if (extras.variants) study.emplace(VariantStudy{setup, analysis, *extras.variants});
    switch (common.form) {
        case Form::json:
            return format_fit_json(setup, analysis, common.units, extras.rooms ? &*extras.rooms : nullptr, study ? &*study : nullptr);
        case Form::csv:
            return format_finding_csv(setup, analysis, common.units);
        case Form::text:
            break;
    }
    std::string more;
    const auto add = [&](const std::string& section) { more += (more.empty() ? "" : "\n") + section; };
    if (extras.trust) add(format_trust_section(analysis, style));
    if (extras.rooms) add(format_how_far(*extras.rooms, analysis.verdict, style));
    if (study) add(format_variant_section(*study, style));
    return format_fit_report(setup, analysis, style, extras.explain, more);
}

/// The readings asked for: by key, by the beginning of keys, or all. A word that no known reading begins with is a problem.
std::vector<std::string> pick_rooms(const Setup& setup, const std::vector<std::string>& asked, OptionReader& reader) {
    const std::vector<std::string> known = list_room_keys(setup);
    std::vector<std::string> picked;
    for (const std::string& word : asked) {
        bool any = false;
        for (const std::string& key : known) {
            if (word.empty() || (word != "all" && !key.starts_with(word))) continue;
            any = true;
            if (std::find(picked.begin(), picked.end(), key) == picked.end()) picked.push_back(key);
        }
        if (!any)
            reader.add_problem({"--how-far",
                                fmt::format("\"{}\": no reading that the set-up has a value for begins like that; allowed: all, a key such as "
                                            "tractor.pto.stub_x, or its beginning",
                                            printable_text(word, 80)),
                                {}});
    }
    return picked;
}

std::vector<ReadingRoom> find_rooms(const Setup& setup, const Mark& mark, std::vector<std::string> keys) {
    RoomSearch search(setup, mark, std::move(keys), std::nullopt);
    while (search.step()) {
    }
    std::vector<ReadingRoom> rooms = search.rooms();
    std::stable_sort(rooms.begin(), rooms.end(), is_tighter);
    return rooms;
}

}  // namespace

Outcome run_fit(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    FitExtras extras;
    extras.explain = context.arguments.has("--explain");
    const auto typed = context.arguments.options.find("--how-far");
    const std::vector<std::string> how_far = typed == context.arguments.options.end() ? std::vector<std::string>{} : typed->second;
    if (!how_far.empty() && common.form == Form::csv)
        reader.add_problem({"--how-far", "CSV has a line for each finding and no place for readings; allowed with --format text or json", {}});
    const bool variants = context.arguments.has("--variants");
    if (variants && common.form == Form::csv)
        reader.add_problem({"--variants", "CSV has a line for each finding and no place for variants; allowed with --format text or json, and \"compare --format csv\" lists them", {}});
    extras.trust = context.arguments.has("--trust");
    if (extras.trust && common.form == Form::csv)
        reader.add_problem({"--trust", "CSV has a line for each finding, with its band, and no place for more; allowed with --format text, and JSON always has it", {}});
    if (extras.explain && common.form == Form::csv)
        reader.add_problem({"--explain",
                            "CSV has no place for explanations; allowed with --format text, and JSON always has them",
                            {}});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    std::vector<std::string> keys = pick_rooms(setup, how_far, reader);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const Analysis analysis = analyze(setup, common.mark, extras.trust ? BandEffort::draws : BandEffort::draws_where_close, find_idle_threads());
    if (!how_far.empty()) extras.rooms = find_rooms(setup, common.mark, std::move(keys));
    if (variants) extras.variants = study_variants(setup, list_variants(setup), common.mark);
    return Answer{find_exit_code(analysis.verdict), format_fit(setup, analysis, common, context.colour, extras)};
}

Outcome run_sweep(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    const int steps = reader.whole("--steps", least_steps, most_steps, usual_steps);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_named_setup(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& setup = std::get<Setup>(loaded);
    if (setup.implement.attachment == Attachment::drawn)
        return make_other_kind_answer("sweep", "A drawn implement is not lifted through a travel. Over turns and dips: \"hitchwright fit\"; across a ditch: \"hitchwright ditch\".", common);
    const std::vector<PoseReport> rows = sweep_travel(setup, steps);
    // No row at all is no answer: fit says what is missing.
    const int code = rows.empty() ? exit_code::not_decided : exit_code::fits;
    const SweepContents contents = find_sweep_contents(setup);
    switch (common.form) {
        case Form::json:
            return Answer{code, format_sweep_json(setup, rows, contents)};
        case Form::csv:
            return Answer{code, format_sweep_csv(rows, contents, common.units)};
        case Form::text:
            break;
    }
    return Answer{code, format_sweep_table(rows, contents, {common.units, page_width, context.colour})};
}

}  // namespace hitchwright
