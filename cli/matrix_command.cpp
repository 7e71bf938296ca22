// matrix: every tractor with every implement and shaft.
#include <array>
#include <filesystem>
#include <ostream>
#include <set>
#include <system_error>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/common_sets.h"
#include "cli/kept_rows.h"
#include "cli/matrix_study.h"
#include "cli/ordered_work.h"
#include "cli/progress_line.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "cli/terminal_input.h"
#include "presets/overrides.h"
#include "report/json_writer.h"
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

/// Machines are what the rows differ in: a row would bear the name of one and be about another.
void refuse_use(OptionReader& reader, const CommonValues& common) {
    for (const std::string& set : common.sets) {
        const std::optional<KeyValue> split = split_key_value(set);
        if (!split || split->parts.size() != 2 || split->parts.back().name != "use") continue;
        const std::string& table = split->parts.front().name;
        reader.add_problem({"--set", fmt::format("'{}' would put one machine in the place of all; name it with --{}s", escape_text(set), escape_text(table)), {}});
    }
}

MatrixOptions read_options(OptionReader& reader, const Arguments& arguments, const Library& library) {
    MatrixOptions options;
    options.common = read_common(reader, arguments, {Form::text, Form::json, Form::csv});
    refuse_use(reader, options.common);
    check_common_sets(reader, options.common, library);
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

/// What goes into the digest of every row: the form of a row, the options, and the files that no machine's list names. The
/// rules in force depend on the implement, so that all that are listed count.
std::vector<std::string> list_common_inputs(const MatrixInputs& inputs, const Library& library) {
    const CommonValues& common = inputs.common;
    std::vector<std::string> texts = {HITCHWRIGHT_VERSION, fmt::format("{} {}", json_version, pair_row_form), common.units == UnitSystem::inch ? "in" : "mm", fmt::format("{}", common.mark.step), common.rules};
    texts.insert(texts.end(), common.sets.begin(), common.sets.end());
    for (const PresetEntry& entry : library.list(FileKind::rules)) texts.push_back(library.read(entry).text);
    texts.push_back(inputs.base.text);
    for (const UsedFile& used : load_setup(inputs.base, library, {common.sets, common.rules}).files) {
        const bool embedded = used.file.starts_with(embedded_mark);
        texts.push_back(library.read(used.kind, embedded ? used.name : used.file).text);
    }
    return texts;
}

/// The SETUP with all it uses, or the header of an empty one. A --set that its own machines do not have may be one for others.
std::optional<Failure> read_base(const CommandContext& context, MatrixInputs& inputs) {
    const std::string name = context.arguments.name(0);
    if (name.empty()) {
        inputs.base.file = "--set";
        inputs.base.text = fmt::format("kind = \"setup\"\nversion = {}\nunit = \"{}\"\n", file_version, inputs.common.units == UnitSystem::inch ? "in" : "mm");
    } else {
        inputs.base = context.library.read(FileKind::setup, name);
        LoadedSetup loaded = load_setup(inputs.base, context.library, {{}, inputs.common.rules});
        if (!loaded.ok()) return make_setup_failure(std::move(loaded.problems));
        inputs.own = std::move(loaded.setup);
    }
    inputs.digests = list_common_inputs(inputs, context.library);
    return std::nullopt;
}

Failure make_write_failure(const std::string& message) {
    Failure failure;
    failure.message = message;
    return failure;
}

void tell(const CommandContext& context, const std::string& sentence) {
    if (context.prompts != nullptr) *context.prompts << format_paragraph("hitchwright: " + sentence, page_width, 0, 4);
}

/// What there is to do, and what was done before.
struct Work {
    std::vector<Combination> combinations;
    std::map<std::string, PairRow> kept;  ///< by digest
    std::size_t reused = 0;
};

Work plan_work(const MatrixInputs& inputs, const MatrixOptions& options, const Library& library) {
    Work work;
    work.combinations = list_combinations(inputs, library);
    if (options.resume) work.kept = read_kept_rows(name_kept_rows(options.output));
    for (const Combination& c : work.combinations) work.reused += work.kept.count(c.inputs);
    return work;
}

/// What the new file of rows begins with: kept rows that are wanted, in their order, then those of pairs that are not asked for
/// this time. A kept row of a pair that is made anew is out of date.
std::vector<PairRow> list_rows_to_keep(const MatrixInputs& inputs, const Work& work) {
    std::vector<PairRow> rows;
    std::set<std::array<std::string, 3>> asked;
    for (const Combination& c : work.combinations) {
        const bool shaft = c.driveline && *c.driveline < inputs.drivelines.read.size();
        asked.insert({inputs.tractors.read[c.tractor].label, inputs.implements.read[c.implement].label, shaft ? inputs.drivelines.read[*c.driveline].label : std::string()});
        if (const auto row = work.kept.find(c.inputs); row != work.kept.end()) rows.push_back(row->second);
    }
    for (const auto& [inputs_of_row, row] : work.kept) {
        if (asked.count({row.tractor, row.implement, row.driveline}) == 0) rows.push_back(row);
    }
    return rows;
}

/// Rows of an earlier run may be hours of work: without --resume they are put aside, not thrown away.
std::optional<Failure> put_old_rows_aside(const CommandContext& context, const MatrixOptions& options) {
    const std::string file = name_kept_rows(options.output), old = name_old_rows(options.output);
    if (options.resume || read_kept_rows(file).empty()) return std::nullopt;
    std::error_code error;
    std::filesystem::rename(file, old, error);
    if (error) return make_write_failure(make_file_error(old, error.value()).message);
    tell(context, fmt::format("the rows of an earlier run are now in {}; --resume would go on with them.", printable_text(old, 200)));
    return std::nullopt;
}

/// Makes the rows in their order. A value: they cannot be kept.
std::optional<FileError> make_rows(const CommandContext& context, const MatrixInputs& inputs, const MatrixOptions& options, const Work& work, InterruptEndsInput& interrupts,
                                   KeptRows* keep, PairTable& table) {
    std::optional<FileError> failed;
    ProgressLine progress(context.progress_shown ? context.prompts : nullptr, work.reused, work.combinations.size());
    std::size_t next = 0;
    work_in_order(
        options.jobs, find_window(options.jobs),
        [&]() -> std::optional<std::size_t> {
            interrupts.end_at_second("\nhitchwright: stopping when the rows under way are done; Ctrl-C once more ends at once.\n");
            return next < work.combinations.size() && !interrupts.interrupted() ? std::optional(next++) : std::nullopt;
        },
        [&](std::size_t place) {
            const Combination& c = work.combinations[place];
            const auto kept = work.kept.find(c.inputs);
            return kept != work.kept.end() ? kept->second : make_pair_row(inputs, c, context.library);
        },
        [&](PairRow&& row) {
            if (keep != nullptr && work.kept.count(row.inputs) == 0) failed = keep->add(row);
            if (failed) return false;
            table.rows.push_back(std::move(row));
            progress.show(table.rows.size());
            return true;
        });
    return failed;
}

std::string format_table(const PairTable& table, const CommonValues& common, bool colour) {
    switch (common.form) {
        case Form::json: return format_pair_table_json(table);
        case Form::csv: return format_pair_table_csv(table, common.units);
        case Form::text: break;
    }
    return format_pair_table(table, {common.units, page_width, colour});
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
    Work work = plan_work(inputs, options, context.library);
    const std::vector<PairRow> unread = list_unread_rows(inputs);
    PairTable table;
    table.total = work.combinations.size() + unread.size();
    KeptRows keep;
    if (!options.output.empty()) {
        if (auto failure = put_old_rows_aside(context, options)) return *failure;
        if (const auto error = keep.begin(name_kept_rows(options.output), list_rows_to_keep(inputs, work))) return make_write_failure(error->message);
    }
    InterruptEndsInput interrupts;
    if (const auto failed = make_rows(context, inputs, options, work, interrupts, options.output.empty() ? nullptr : &keep, table))
        return make_write_failure(fmt::format("{}; {} of {} rows are kept, the same command with --resume goes on", failed->message, table.rows.size(), table.total));
    const bool stopped = table.rows.size() < work.combinations.size();
    if (!stopped) table.rows.insert(table.rows.end(), unread.begin(), unread.end());
    const int code = stopped ? exit_code::interrupted : table.count(not_read_word) == 0 ? exit_code::fits : exit_code::bad_file;
    if (!options.output.empty()) return finish_file(context, options, work, table, code);
    if (stopped) tell(context, fmt::format("stopped: {} of {} rows are done.", table.rows.size(), table.total));
    return Answer{code, format_table(table, options.common, context.colour)};
}

}  // namespace

Outcome run_matrix(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const MatrixOptions options = read_options(reader, context.arguments, context.library);
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
