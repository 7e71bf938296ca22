// batch: a set-up a line in, an answer a line out.
#include <cerrno>
#include <optional>
#include <ostream>
#include <string>

#include <fmt/format.h>

#include "cli/batch_line.h"
#include "cli/commands.h"
#include "cli/common_sets.h"
#include "cli/ordered_work.h"
#include "cli/terminal_input.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

/// Writes answers one by one and counts them.
class AnswerWriter {
public:
    explicit AnswerWriter(std::ostream& out) : out_(out) {}

    /// False: the reader has gone, or nothing can be written.
    bool write(const BatchAnswer& answer) {
        errno = 0;
        out_.write(answer.text.data(), static_cast<std::streamsize>(answer.text.size()));
        out_.flush();
        ++written_;
        wrong_ += answer.has_errors ? 1U : 0U;
        if (out_.good()) return true;
        // A reader that is gone is not complained about; all else is, by whoever writes next.
        if (errno == EPIPE) out_.clear();
        return false;
    }
    std::size_t written() const { return written_; }
    std::size_t wrong() const { return wrong_; }

private:
    std::ostream& out_;
    std::size_t written_ = 0, wrong_ = 0;
};

void tell_errors(const CommandContext& context, const AnswerWriter& writer) {
    if (writer.wrong() == 0 || context.prompts == nullptr) return;
    *context.prompts << format_paragraph(fmt::format("hitchwright: {} of {} without a verdict: \"errors\" of the answer says why.", writer.wrong(),
                                                     format_count(writer.written(), "line")),
                                         page_width, 0, 4);
}

}  // namespace

Outcome run_batch(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::json});
    check_common_sets(reader, common, context.library);
    const int jobs = reader.whole("--jobs", 1, most_jobs, find_all_jobs());
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const BatchOptions options{context.library, common, context.arguments.has("--full")};
    AnswerWriter writer(*context.out);
    LineReader lines(*context.in, most_line_bytes);
    InterruptEndsInput interrupts;
    std::string unreadable;
    // A line that an interrupt broke off is no line.
    const auto next = [&]() -> std::optional<InputLine> {
        interrupts.end_at_second("hitchwright: stopping when the lines under way are answered; Ctrl-C once more ends at once.\n");
        if (interrupts.interrupted()) return std::nullopt;
        std::optional<InputLine> line;
        try {
            line = lines.next();
        } catch (const InputError& error) {
            unreadable = error.what();
        }
        return interrupts.interrupted() || !unreadable.empty() ? std::nullopt : std::move(line);
    };
    const bool all_written = work_in_order(
        jobs, find_window(jobs), next, [&](const InputLine& line) { return answer_batch_line(line, options); }, [&](const BatchAnswer& answer) { return writer.write(answer); });
    if (!all_written) return Answer{exit_code::internal, {}};
    tell_errors(context, writer);
    if (interrupts.interrupted()) return Answer{exit_code::interrupted, {}};
    if (!unreadable.empty()) {
        Failure failure;
        failure.message = unreadable;
        return failure;
    }
    const bool strict = context.arguments.has("--strict") && writer.wrong() > 0;
    return Answer{strict ? exit_code::bad_file : exit_code::fits, {}};
}

}  // namespace hitchwright
