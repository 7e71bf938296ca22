// Internal to sheet.h: the lines of each part.
#pragma once

#include "report/safe_words.h"
#include "report/sheet.h"

namespace hitchwright {

/// What the lines are written from.
struct SheetSource {
    const Setup& setup;
    const Analysis& analysis;
    SafeWords words;

    bool mounted() const { return setup.implement.attachment == Attachment::mounted; }
    bool has_shaft() const { return setup.implement.pic.fitted; }
};

/// Adds lines to one part of the sheet.
class LineWriter {
public:
    LineWriter(SheetSection section, std::vector<SheetLine>& out) : section_(section), out_(out) {}
    void tick(std::string_view word, std::string what) {
        out_.push_back({section_, word, std::move(what), {}, {}, false});
    }
    void read(std::string_view word, std::string what, std::string target = {}, std::string hint = {}) {
        out_.push_back({section_, word, std::move(what), std::move(target), {}, true, std::move(hint)});
    }
    void add(SheetLine line) {
        line.section = section_;
        out_.push_back(std::move(line));
    }

private:
    SheetSection section_;
    std::vector<SheetLine>& out_;
};

void add_job_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_hitch_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_levelling_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_travel_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_driveline_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_drawn_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_load_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_specification_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_run_lines(const SheetSource& source, std::vector<SheetLine>& lines);

/// "PTO off above 24 1/4 in; no work above 22 in": the tightest of the conditions; empty without one.
std::string say_pto_limits(const SheetSource& source);

}  // namespace hitchwright
