// The log of readings: what is added stands behind what was there, byte for byte, and is read as it was given.

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <random>
#include <string>

#include <unistd.h>

#include "presets/file_text.h"
#include "presets/iso_date.h"
#include "presets/library.h"
#include "presets/reading_log.h"
#include "presets/recheck_values.h"

using namespace hitchwright;

namespace {

LogEntry make_entry(const std::string& key, const std::string& value) {
    LogEntry entry;
    entry.date = "2026-03-01";
    entry.key = key;
    entry.value = value;
    return entry;
}

std::vector<LogEntry> parse(const std::string& text) {
    std::vector<Problem> problems;
    const std::vector<LogEntry> entries = parse_log(text, "x.log.toml", problems);
    for (const Problem& p : problems) UNSCOPED_INFO(format_problem(p));
    CHECK(problems.empty());
    return entries;
}

std::vector<Problem> refuse(const std::string& text) {
    std::vector<Problem> problems;
    parse_log(text, "x.log.toml", problems);
    CAPTURE(text);
    REQUIRE_FALSE(problems.empty());
    return problems;
}

// An empty folder of this process alone.
std::filesystem::path make_folder(const std::string& name) {
    const auto folder = std::filesystem::temp_directory_path() / (name + "-" + std::to_string(getpid()));
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    return folder;
}

const std::string head = "kind = \"log\"\nversion = 1\n";

// Text of any valid characters but control ones, quotes and backslashes among them.
std::string make_text(std::mt19937& random, std::size_t most) {
    static const std::array<std::string, 14> bits = {
        "\"", "\\", "'", "]", "[", "=", "#", " ", "\xC3\xA4", "\xE6\x8B\x96", "\xF0\x9F\x9A\x9C", "\"\"\"", "a", "}"};
    std::string text = "x";
    for (std::size_t i = random() % most; i > 0; --i) text += bits[random() % bits.size()];
    return text + "x";
}

}  // namespace

TEST_CASE("iso date: days that exist, and nothing else", "[analytic]") {
    for (const char* day : {"2026-03-31", "2024-02-29", "2000-02-29", "0001-01-01", "9999-12-31"})
        CHECK(is_iso_date(day));
    for (const char* day : {"2026-02-29", "1900-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "2026-01-00",
                            "26-01-01", "2026-1-1", "2026/01/01", "2026-01-01 ", "+026-01-01", "2026-01--1", ""}) {
        CAPTURE(day);
        CHECK_FALSE(is_iso_date(day));
    }
    using namespace std::chrono;
    CHECK(format_iso_date(year_month_day(sys_days(days(0)))) == "1970-01-01");
    CHECK(format_iso_date(year_month_day(sys_days(days(19782)))) == "2024-02-29");
}

TEST_CASE("log: a new one says what it is, and every further entry stands behind what was there", "[analytic]") {
    ReadingLog log;
    LogEntry first = make_entry("choices.lift_stop", "26"), second = make_entry("tractor.pto.stub_x", "11 1/4 in");
    first.unit = "in";
    second.by = "A. \"Tony\" Turner";
    second.kind = LogKind::recheck;
    second.after = "1 h";
    second.before = "11";
    second.before_in = "built-in:tractors/compact.toml";
    second.note = "after new tyres";
    log.text = append_to_log(log, {first});
    CHECK(log.text ==
          "# Readings of a set-up by date, written by \"hitchwright record\". Entries are only added, at the end.\n" +
              head +
              "\n[[entry]]\ndate = \"2026-03-01\"\nkind = \"reading\"\nkey = \"choices.lift_stop\"\nunit = \"in\"\n"
              "value = \"26\"\n");
    const std::string more = append_to_log(log, {second});
    CHECK(more == log.text +
                      "\n[[entry]]\ndate = \"2026-03-01\"\nby = \"A. \\\"Tony\\\" Turner\"\nkind = \"recheck\"\n"
                      "after = \"1 h\"\nkey = \"tractor.pto.stub_x\"\nvalue = \"11 1/4 in\"\nbefore = \"11\"\n"
                      "before_in = \"built-in:tractors/compact.toml\"\nnote = \"after new tyres\"\n");
    CHECK(parse(more) == std::vector<LogEntry>{first, second});
}

TEST_CASE("log: line ends, comments and a missing last line end are kept", "[analytic]") {
    ReadingLog log;
    log.text = "# mine\r\nkind = \"log\"\r\nversion = 1\r\n# nothing yet";
    const std::string more = append_to_log(log, {make_entry("choices.lift_stop", "26")});
    CHECK(more == log.text +
                      "\r\n\r\n[[entry]]\r\ndate = \"2026-03-01\"\r\nkind = \"reading\"\r\nkey = "
                      "\"choices.lift_stop\"\r\nvalue = \"26\"\r\n");
    CHECK(parse(more).size() == 1);
}

TEST_CASE("log: an entry written by hand without quotes is understood", "[analytic]") {
    const auto entries =
        parse(head + "[[entry]]\ndate = 2026-03-01\nkey = \"choices.lift_stop\"\nvalue = 26.5\nbefore = 27\n");
    REQUIRE(entries.size() == 1);
    CHECK(entries[0].date == "2026-03-01");
    CHECK(entries[0].value == "26.5");
    CHECK(entries[0].before == "27");
    CHECK(entries[0].kind == LogKind::reading);
}

TEST_CASE("log: what is no log, or not all understood, is refused with its place", "[analytic]") {
    const std::string entry = "[[entry]]\ndate = \"2026-03-01\"\nkey = \"choices.lift_stop\"\nvalue = \"26\"\n";
    CHECK(refuse("kind = \"setup\"\nversion = 1\n").front().message == "this file is no log of readings");
    CHECK(refuse("version = 1\n").front().key == "kind");
    CHECK(refuse("kind = \"log\"\n").front().key == "version");
    CHECK(refuse("kind = \"log\"\nversion = 2\n" + entry + "new_key = 1\n").size() == 1);
    CHECK(refuse(head + "[[entry]\n").front().line == 3);
    CHECK(refuse(head + "entry = 3\n").front().line == 3);
    CHECK(refuse(head + "[notes]\na = 1\n").front().key == "notes");
    const auto two = refuse(head + entry + "valeu = 3\n[[entry]]\ndate = \"2026-02-30\"\nkey = \"a b\"\n");
    REQUIRE(two.size() == 4);
    CHECK(two[0].line == 7);
    CHECK(two[0].nearest_key == "value");
    CHECK(two[1].key == "entry[2].date");
    CHECK(two[1].read == "2026-02-30");
    CHECK(two[2].key == "entry[2].value");
    CHECK(two[3].key == "entry[2].key");
    CHECK(refuse(head + entry + "kind = \"guess\"\n").front().allowed == "\"reading\" or \"recheck\"");
    CHECK(refuse(head + entry + "note = [1]\n").front().key == "entry[1].note");
    CHECK(refuse(head + "entry = [1]\n").front().message == "an entry is a table");
}

TEST_CASE("log: random texts come back as they were, and the log before is the beginning of the log after",
          "[random]") {
    const unsigned seed = 20260301;
    CAPTURE(seed);
    std::mt19937 random(seed);
    ReadingLog log;
    std::vector<LogEntry> all;
    for (int i = 0; i < 300; ++i) {
        LogEntry entry = make_entry("tractor.upper_link_pin[" + std::to_string(i) + "].z", make_text(random, 20));
        entry.by = make_text(random, 20);
        entry.note = make_text(random, 60);
        entry.before = random() % 2 == 0 ? "" : make_text(random, 20);
        entry.kind = random() % 2 == 0 ? LogKind::reading : LogKind::recheck;
        const std::string more = append_to_log(log, {entry});
        CHECK(more.starts_with(log.text));
        log.text = more;
        all.push_back(entry);
    }
    CHECK(parse(log.text) == all);
}

TEST_CASE("log: its name comes from the set-up's, and it is no preset", "[analytic]") {
    CHECK(find_log_file("yard.toml") == "yard.log.toml");
    CHECK(find_log_file("a.b/yard.toml") == "a.b/yard.log.toml");
    CHECK(find_log_file("./yard") == "./yard.log.toml");
    const std::filesystem::path folder = make_folder("hitchwright-log-names");
    std::filesystem::create_directories(folder / "setups" / "real");
    for (const char* name : {"setups/yard.toml", "setups/yard.log.toml", "setups/real/field.toml"})
        std::ofstream(folder / name) << "x";
    std::filesystem::create_symlink("real/field.toml", folder / "setups" / "link.toml");
    CHECK(find_log_file((folder / "setups/link.toml").string()) ==
          std::filesystem::canonical(folder / "setups/real").string() + "/field.log.toml");
    std::vector<std::string> keys;
    for (const PresetEntry& entry : Library(folder.string(), {}).list(FileKind::setup)) keys.push_back(entry.key);
    CHECK(keys == std::vector<std::string>{"link", "yard"});
    std::filesystem::remove_all(folder);
}

TEST_CASE("log: what is missing is empty, what cannot be read has its reason", "[analytic]") {
    const std::filesystem::path folder = make_folder("hitchwright-log-files");
    std::filesystem::create_directories(folder / "folder.log.toml");
    const auto at = [&](const char* name) { return (folder / name).string(); };
    std::ofstream(at("latin1.log.toml")) << "kind = \"log\"\nversion = 1\n# caf\xE9\n";
    std::ofstream(at("empty.log.toml")) << "";
    std::ofstream(at("mark.log.toml")) << "\xEF\xBB\xBF" << head;
    CHECK_FALSE(read_log(at("none.log.toml")).exists);
    CHECK(read_log(at("none.log.toml")).ok());
    CHECK(read_log(at("empty.log.toml")).ok());
    CHECK_FALSE(read_log(at("folder.log.toml")).ok());
    CHECK(read_log(at("latin1.log.toml")).problems.front().line == 3);
    CHECK(read_log(at("mark.log.toml")).byte_order_mark);
    std::filesystem::create_symlink("gone", folder / "link.log.toml");
    CHECK_FALSE(read_log(at("link.log.toml")).ok());
    std::filesystem::remove_all(folder);
}

TEST_CASE("recheck values: each is compared with the set-up by the errors of both", "[analytic]") {
    PresetText text;
    text.file = "x.toml";
    text.text =
        "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"\ntravel.ball_height_high = \"33 in "
        "+- "
        "1/8\"\n[implement]\nuse = \"tiller-5\"\n[driveline]\nuse = \"none\"\n[choices]\nupper_link_pin = "
        "\"2\"\nmast_pin "
        "= \"1\"\nlift_stop = 27\n";
    const auto recheck = [&](const std::string& typed) {
        const RecheckedValues result = recheck_values(text, Library{}, {typed});
        for (const Problem& p : result.problems) UNSCOPED_INFO(format_problem(p));
        REQUIRE(result.ok());
        return result.values.at(0);
    };
    // 1/8 in and 1/8 in give 0.1768 in.
    const RecheckedValue moved = recheck("tractor.travel.ball_height_high=32 3/4");
    CHECK(moved.outcome == RecheckOutcome::moved);
    REQUIRE(moved.movement);
    CHECK(moved.movement->moved == Approx(-0.25 * 0.0254).margin(1e-12));
    CHECK(moved.movement->error == Approx(std::sqrt(2.0) * 0.125 * 0.0254).margin(1e-12));
    CHECK(recheck("tractor.travel.ball_height_high=32 7/8").outcome == RecheckOutcome::within_error);
    CHECK(recheck("tractor.travel.ball_height_high=837 mm +- 0.5 mm").outcome == RecheckOutcome::within_error);
    CHECK(recheck("tractor.travel.ball_height_high=842 mm +- 0.5 mm").outcome == RecheckOutcome::moved);
    // A stop was decided on, not taken: the tape to the floor alone counts.
    CHECK(recheck("choices.lift_stop=27 1/8").outcome == RecheckOutcome::within_error);
    CHECK(recheck("choices.lift_stop=27 3/16").outcome == RecheckOutcome::moved);
    CHECK(recheck("tractor.pto.stub_x=12").outcome == RecheckOutcome::not_measured);
    CHECK(recheck("choices.upper_link_length=22").outcome == RecheckOutcome::not_known);
    CHECK(recheck("choices.mast_pin=1").outcome == RecheckOutcome::same);
    CHECK(recheck("choices.upper_link_pin=1").outcome == RecheckOutcome::other);
    // A list of a used file cannot be recorded, but it can be read again.
    CHECK(recheck("tractor.upper_link_pin[2].z=32").outcome == RecheckOutcome::not_measured);
    CHECK(
        recheck_values(text, Library{}, {"choices.lift_stop=27", "choices.lift_stop=27", "x=1", "y"}).problems.size() ==
        3);
    text.text += "working_band_low = 99\n";
    CHECK_FALSE(recheck_values(text, Library{}, {"choices.lift_stop=27"}).ok());
}
