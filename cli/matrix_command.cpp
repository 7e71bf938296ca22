// matrix: every tractor with every implement and shaft.
#include <ostream>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/kept_rows.h"
#include "cli/matrix_study.h"
#include "cli/ordered_work.h"
#include "cli/progress_line.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "cli/terminal_input.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

/// More rows than this are not a table any more.
constexpr std::size_t most_rows = 200000;

struct MatrixOptions {
    CommonValues common;
    int jobs = 1;
    std::string output;  ///< empty: the output stream
    bool resume = false;
};

MatrixOptions read_options(OptionReader& reader, const Arguments& arguments) {
    MatrixOptions options;
    options.common = read_common(reader, arguments, {Form::text, Form::json, Form::csv});
    options.jobs = reader.whole("--jobs", 1, most_jobs, find_all_jobs());
    options.output = arguments.value("--output");
    options.resume = arguments.has("--resume");
    if (options.resume && !arguments.has("--output")) reader.add_problem({"--resume", "there is no --output FILE whose rows could be gone on with", {}});
    return options;
}

std::vector<std::string> list_named(const Arguments& arguments, std::string_view option) {
    const auto found = arguments.options.find(option);
    return found == arguments.options.end() ? std::vector<std::string>{} : found->second;
}

/// The SETUP with all it uses, or the header of an empty one.
std::optional<Failure> read_base(const CommandContext& context, MatrixInputs& inputs) {
    const std::string name = context.arguments.name(0);
    inputs.digests = {HITCHWRIGHT_VERSION, inputs.common.units == UnitSystem::inch ? "in" : "mm", fmt::format("{}", inputs.common.mark.step), inputs.common.rules};
    inputs.digests.insert(inputs.digests.end(), inputs.common.sets.begin(), inputs.common.sets.end());
    if (name.empty()) {
        inputs.base.file = "--set";
        inputs.base.text = fmt::format("kind = \"setup\"\nversion = {}\nunit = \"{}\"\n", file_version, inputs.common.units == UnitSystem::inch ? "in" : "mm");
        if (!inputs.common.rules.empty()) inputs.digests.push_back(context.library.read(FileKind::rules, inputs.common.rules).text);
        return std::nullopt;
    }
    inputs.base = context.library.read(FileKind::setup, name);
    LoadedSetup loaded = load_setup(inputs.base, context.library, {inputs.common.sets, inputs.common.rules});
    if (!loaded.ok()) return make_setup_failure(std::move(loaded.problems));
    for (const UsedFile& used : loaded.files) {
        const bool embedded = used.file.starts_with(embedded_mark);
        inputs.digests.push_back(context.library.read(used.kind, embedded ? used.name : used.file).text);
    }
    inputs.digests.push_back(inputs.base.text);
    inputs.own = std::move(loaded.setup);
    return std::nullopt;
}

/// What is wrong with --set or --rules is wrong in every row: said once, before any is made.
std::optional<Failure> check_common(const MatrixInputs& inputs, const std::vector<Combination>& combinations, const Library& library) {
    if (inputs.own || (inputs.common.sets.empty() && inputs.common.rules.empty())) return std::nullopt;
    for (const Combination& c : combinations) {
        if (!c.driveline) continue;
        std::vector<Problem> problems;
        for (Problem& p : load_combination(inputs, c, library).problems) {
            if (p.file == "--set" || p.file == "--rules") problems.push_back(std::move(p));
        }
        if (!problems.empty()) return make_setup_failure(std::move(problems));
        return std::nullopt;
    }
    return std::nullopt;
}

Failure make_write_failure(const std::string& message) {
    Failure failure;
    failure.message = message;
    return failure;
}

/// What there is to do, and what was done before.
struct Work {
    std::vector<Combination> combinations;
    std::map<std::string, PairRow> kept;  ///< by digest
    std::size_t reused = 0;
};

Work plan_work(const MatrixInputs& inputs, const MatrixOptions& options) {
    Work work;
    work.combinations = list_combinations(inputs);
    if (options.resume) work.kept = read_kept_rows(name_kept_rows(options.output));
    for (const Combination& c : work.combinations) work.reused += work.kept.count(c.inputs);
    return work;
}

/// Makes the rows in their order. False: they cannot be kept.
bool make_rows(const CommandContext& context, const MatrixInputs& inputs, const MatrixOptions& options, const Work& work, const InterruptEndsInput& interrupts,
               KeptRows* keep, PairTable& table) {
    ProgressLine progress(context.progress_shown ? context.prompts : nullptr, work.reused, work.combinations.size());
    std::size_t next = 0;
    return work_in_order(
        options.jobs, find_window(options.jobs),
        [&]() -> std::optional<std::size_t> { return next < work.combinations.size() && !interrupts.interrupted() ? std::optional(next++) : std::nullopt; },
        [&](std::size_t place) {
            const Combination& c = work.combinations[place];
            const auto kept = work.kept.find(c.inputs);
            return kept != work.kept.end() ? kept->second : make_pair_row(inputs, c, context.library);
        },
        [&](PairRow&& row) {
            const bool old = work.kept.count(row.inputs) > 0;
            const bool written = keep == nullptr || old || keep->add(row);
            table.rows.push_back(std::move(row));
            progress.show(table.rows.size());
            return written;
        });
}

std::string format_table(const PairTable& table, const CommonValues& common, bool colour) {
    switch (common.form) {
        case Form::json: return format_pair_table_json(table);
        case Form::csv: return format_pair_table_csv(table, common.units);
        case Form::text: break;
    }
    return format_pair_table(table, {common.units, page_width, colour});
}

void tell(const CommandContext& context, const std::string& sentence) {
    if (context.prompts != nullptr) *context.prompts << format_paragraph("hitchwright: " + sentence, page_width, 0, 4);
}

Outcome finish_file(const CommandContext& context, const MatrixOptions& options, const Work& work, const PairTable& table, int code) {
    if (code == exit_code::interrupted) {
        tell(context, fmt::format("stopped. {} of {} rows are kept in {}; the same command with --resume goes on.", table.rows.size(), table.total,
                                  printable_text(name_kept_rows(options.output), 200)));
        return Answer{code, {}};
    }
    if (const auto error = write_file_atomically(options.output, format_table(table, options.common, false))) return make_write_failure(error->message);
    const Record record = {{"file", options.output}, {"rows", static_cast<int>(table.rows.size())}, {"kept", static_cast<int>(work.reused)}};
    if (options.common.form == Form::json) return Answer{code, format_json("written", record)};
    if (options.common.form == Form::csv) return Answer{code, format_csv({record})};
    const std::string kept = work.reused > 0 ? fmt::format(", {} of them from before", work.reused) : std::string{};
    return Answer{code, format_paragraph(fmt::format("Written: {}, {}{}.", printable_text(options.output, 200), format_count(table.rows.size(), "row"), kept), page_width, 0, 4)};
}

Outcome make_matrix(const CommandContext& context, const MatrixInputs& inputs, const MatrixOptions& options) {
    Work work = plan_work(inputs, options);
    if (auto failure = check_common(inputs, work.combinations, context.library)) return *failure;
    const std::vector<PairRow> unread = list_unread_rows(inputs);
    PairTable table;
    table.total = work.combinations.size() + unread.size();
    KeptRows keep;
    if (!options.output.empty()) {
        std::vector<PairRow> kept;
        for (const Combination& c : work.combinations) {
            if (const auto row = work.kept.find(c.inputs); row != work.kept.end()) kept.push_back(row->second);
        }
        if (const auto error = keep.begin(name_kept_rows(options.output), kept)) return make_write_failure(error->message);
    }
    const InterruptEndsInput interrupts;
    if (!make_rows(context, inputs, options, work, interrupts, options.output.empty() ? nullptr : &keep, table))
        return make_write_failure(fmt::format("cannot write '{}'", name_kept_rows(options.output)));
    const bool stopped = table.rows.size() < work.combinations.size();
    if (!stopped) table.rows.insert(table.rows.end(), unread.begin(), unread.end());
    const int code = stopped ? exit_code::interrupted : unread.empty() ? exit_code::fits : exit_code::bad_file;
    if (!options.output.empty()) return finish_file(context, options, work, table, code);
    if (stopped) tell(context, fmt::format("stopped: {} of {} rows are done.", table.rows.size(), table.total));
    return Answer{code, format_table(table, options.common, context.colour)};
}

}  // namespace

Outcome run_matrix(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const MatrixOptions options = read_options(reader, context.arguments);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    MatrixInputs inputs;
    inputs.common = options.common;
    inputs.all = context.arguments.has("--all");
    if (auto failure = read_base(context, inputs)) return *failure;
    const Setup* own = inputs.own ? &*inputs.own : nullptr;
    inputs.tractors = list_matrix_machines<Tractor>(list_named(context.arguments, "--tractors"), context.library, own);
    inputs.implements = list_matrix_machines<Implement>(list_named(context.arguments, "--implements"), context.library, own);
    inputs.drivelines = list_matrix_machines<Driveline>(list_named(context.arguments, "--drivelines"), context.library, own);
    if (count_combinations(inputs) > most_rows) {
        reader.add_problem({{}, fmt::format("these are {} combinations; allowed: at most {}; name fewer machines", count_combinations(inputs), most_rows), {}});
        return make_failure(reader.problems(), context.arguments.command);
    }
    return make_matrix(context, inputs, options);
}

}  // namespace hitchwright
