// Internal to sheet.h: the lines of each part.
#pragma once

#include "geometry/curve_bands.h"
#include "report/safe_words.h"
#include "report/sheet.h"

namespace hitchwright {

/// What the lines are written from.
struct SheetSource {
    const Setup& setup;
    const Analysis& analysis;
    SafeWords words;
    const CurveBands* bands = nullptr;  ///< of numbers at stated ball heights

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
/// Readings to take again, and the best one to take next: of the set-up as it is, not of what the steps make of it.
void add_reading_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_hitch_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_levelling_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_travel_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_driveline_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_drawn_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_load_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_specification_lines(const SheetSource& source, std::vector<SheetLine>& lines);
void add_run_lines(const SheetSource& source, std::vector<SheetLine>& lines);

/// " +- 1/2 in": how far off a target may be in truth (95 %), to its wider side, rounded up; empty: not known.
std::string say_within(const ErrorBand& band, Dimension dimension, UnitSystem units);
/// Of a number at a ball height, where the source has its band.
std::string say_within(const SheetSource& source, double height, CurveNumber number);
/// Of the first finding of that kind, and of that subject where one is named.
std::string say_within(const SheetSource& source, FindingKind kind, std::string_view subject = {});

/// "PTO off above 24 1/4 in; no work above 22 in": the tightest of the conditions; empty without one.
std::string say_pto_limits(const SheetSource& source);

}  // namespace hitchwright
