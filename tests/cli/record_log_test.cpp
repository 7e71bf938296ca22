// record: the log beside the set-up, readings taken once more, and what happens when one of both files fails.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <set>
#include <string>
#include <thread>

#include <sys/file.h>
#include <sys/resource.h>

#include <fcntl.h>
#include <unistd.h>

#include "cli/today.h"
#include "presets/iso_date.h"
#include "presets/load_setup.h"
#include "presets/reading_log.h"
#include "tests/cli/run.h"
#include "tests/report/json_shapes.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const std::string mine =
    "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"\n[implement]\nuse = \"tiller-5\"\n"
    "[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = \"2\"\nmast_pin = \"1\"\nworking_band_low = "
    "12\nworking_band_high = 22\nlift_stop = \"27 in\"\n";

World at_epoch() {
    World world;
    world.variables["SOURCE_DATE_EPOCH"] = "1772323200";  // 2026-03-01 00:00 UTC
    return world;
}

Run record(std::vector<std::string> args, const World& world = at_epoch()) {
    args.insert(args.begin(), "record");
    return run(args, world);
}

std::vector<LogEntry> entries_of(const std::string& file) {
    const ReadingLog log = read_log(file);
    for (const Problem& p : log.problems) UNSCOPED_INFO(format_problem(p));
    REQUIRE(log.ok());
    return log.entries;
}

bool fits_page(const std::string& text) {
    const auto lines = split_lines(text);
    return std::all_of(lines.begin(), lines.end(), [](const std::string& line) { return line.size() <= 80; });
}

// No file of this process may grow beyond so many bytes while it lives: a full disk, for root as well.
class FullDisk {
public:
    explicit FullDisk(rlim_t bytes) {
        REQUIRE(getrlimit(RLIMIT_FSIZE, &usual_) == 0);
        handler_ = std::signal(SIGXFSZ, SIG_IGN);
        struct rlimit small = usual_;
        small.rlim_cur = bytes;
        REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
    }
    ~FullDisk() {
        setrlimit(RLIMIT_FSIZE, &usual_);
        std::signal(SIGXFSZ, handler_);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;

private:
    struct rlimit usual_ {};
    void (*handler_)(int) = nullptr;
};

}  // namespace

TEST_CASE("record log: every value has an entry with day, person, unit and the value before", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    const Run result = record({"a.toml", "choices.lift_stop=26", "tractor.pto.stub_x=11 1/4 in", "--by", " A. Turner ",
                               "--note", "new tyres"});
    CAPTURE(result.err);
    REQUIRE(result.code == 0);
    CHECK(contains(result.out, "Log: a.log.toml, 2 entries, a new file\n"));
    const auto entries = entries_of("a.log.toml");
    REQUIRE(entries.size() == 2);
    CHECK(entries[0] == LogEntry{"2026-03-01", "A. Turner", LogKind::reading, "", "choices.lift_stop", "in", "26",
                                 "27 in", "", "new tyres"});
    CHECK(entries[1] == LogEntry{"2026-03-01", "A. Turner", LogKind::reading, "", "tractor.pto.stub_x", "", "11 1/4 in",
                                 "11", "built-in:tractors/compact.toml", "new tyres"});
    // The set-up has it already: taken again and found the same is worth an entry.
    const std::string before = read_file("a.log.toml"), setup = read_file("a.toml");
    const Run again = record({"a.toml", "choices.lift_stop=26", "--date", "2026-04-01"});
    CHECK(contains(again.out, "Nothing to write"));
    CHECK(contains(again.out, "Log: a.log.toml, 1 entry added\n"));
    CHECK(read_file("a.toml") == setup);
    CHECK(read_file("a.log.toml").starts_with(before));
    CHECK(entries_of("a.log.toml").at(2).date == "2026-04-01");
    // A whole list, an angle alone, a word.
    REQUIRE(
        record({"a.toml", "tractor.pto.speeds_rpm=540, 1000", "implement.pic.slope=2", "choices.mast_pin=1"}).code ==
        0);
    const auto more = entries_of("a.log.toml");
    CHECK(more.at(3).value == "540, 1000");
    CHECK(more.at(4).unit == "deg");
    CHECK(more.at(5).unit.empty());
}

TEST_CASE("record log: --without-log and --dry-run write none, and a refused value neither", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    REQUIRE(record({"a.toml", "choices.lift_stop=26", "--without-log"}).code == 0);
    const Run dry = record({"a.toml", "choices.lift_stop=25", "--dry-run"});
    CHECK(contains(dry.out, "Log, not written: a.log.toml, 1 entry, a new file"));
    CHECK(record({"a.toml", "choices.lift_stop=2 kg"}).code == 3);
    CHECK(record({"a.toml", "--recheck", "choices.lift_stop=26", "--without-log"}).code == 0);
    CHECK(record({"a.toml", "--recheck", "choices.lift_stop=26", "--dry-run"}).code == 0);
    CHECK_FALSE(std::filesystem::exists("a.log.toml"));
}

TEST_CASE("record log: a log that is not understood stays, and so does the set-up", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    for (const std::string& broken :
         {std::string("kind = \"log\"\nversion = 1\n[[entry]]\ndate = \"2026-13-01\"\nkey = \"x\"\nvalue = \"1\"\n"),
          std::string("kind = \"log\"\nversion = 1\n[[entry\n"), std::string("kind = \"setup\"\nversion = 1\n"),
          std::string("caf\xE9\n"), std::string("kind = \"log\"\nversion = 7\n"),
          std::string("kind = \"log\"\nversion = 1\nentry = []\n")}) {
        write_file("a.log.toml", broken);
        for (const std::vector<std::string>& args :
             {std::vector<std::string>{"a.toml", "choices.lift_stop=26"},
              std::vector<std::string>{"a.toml", "choices.lift_stop=26", "--recheck"}}) {
            const Run result = record(args);
            CAPTURE(broken, result.err);
            CHECK((result.code == 3 || result.code == 4));
            CHECK(contains(result.err, "a.log.toml"));
            CHECK(contains(unwrap(result.err), "nothing was written"));
            CHECK(result.out.empty());
            CHECK(read_file("a.toml") == mine);
            CHECK(read_file("a.log.toml") == broken);
        }
    }
    write_file("a.log.toml", "kind = \"log\"\nversion = 1\n[[entry\n");
    const Run shown = record({"a.toml", "--log"});
    CHECK(shown.code == 3);
    CHECK(contains(unwrap(shown.err), "a.log.toml:3"));
    CHECK(contains(unwrap(shown.err), "move it away and a new one is begun"));
    CHECK(record({"a.toml", "choices.lift_stop=26", "--without-log"}).code == 0);
    CHECK(contains(read_file("a.toml"), "lift_stop = 26"));
}

TEST_CASE("record log: with a full disk neither file changes, whichever of them finds no room", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine + "# " + std::string(4000, 'x') + "\n");
    const std::string setup = read_file("a.toml");
    const auto refused = [&](const std::vector<std::string>& said) {
        const Run result = [] {
            const FullDisk disk(1000);
            return record({"a.toml", "choices.lift_stop=26"});
        }();
        CAPTURE(result.err);
        CHECK(result.code == 4);
        CHECK(result.out.empty());
        for (const std::string& words : said) CHECK(contains(unwrap(result.err), words));
    };
    // The log has room, the set-up has none: a new log goes, an old one is as it was.
    refused({"cannot write 'a.toml'", "nothing was written"});
    CHECK_FALSE(std::filesystem::exists("a.log.toml"));
    CHECK(read_file("a.toml") == setup);
    REQUIRE(record({"a.toml", "choices.lift_stop=25"}).code == 0);
    const std::string log = read_file("a.log.toml"), later = read_file("a.toml");
    refused({"cannot write 'a.toml'", "nothing was written"});
    CHECK(read_file("a.log.toml") == log);
    CHECK(read_file("a.toml") == later);
    // The log has no room: the set-up is not begun.
    write_file("a.toml", mine);
    for (int i = 0; i < 8; ++i) REQUIRE(record({"a.toml", "choices.lift_stop=27", "--recheck"}).code == 0);
    const std::string long_log = read_file("a.log.toml");
    REQUIRE(long_log.size() > 1000);
    refused({"cannot write 'a.log.toml'", "nothing was written"});
    CHECK(read_file("a.log.toml") == long_log);
    CHECK(read_file("a.toml") == mine);
}

TEST_CASE("record log: a link and the file behind it have one log, beside the file", "[cli]") {
    const WorkingFolder folder;
    std::filesystem::create_directory("below");
    write_file("below/a.toml", mine);
    std::filesystem::create_symlink("below/a.toml", "link.toml");
    REQUIRE(record({"link.toml", "choices.lift_stop=26"}).code == 0);
    REQUIRE(record({"below/a.toml", "choices.lift_stop=25"}).code == 0);
    CHECK(entries_of("below/a.log.toml").size() == 2);
    CHECK_FALSE(std::filesystem::exists("link.log.toml"));
}

TEST_CASE("record log: several at once lose no entry", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    constexpr int writers = 8, each = 10;
    std::vector<std::thread> threads;
    std::vector<int> failed(writers, 0);
    for (int w = 0; w < writers; ++w) {
        threads.emplace_back([w, &failed] {
            for (int i = 0; i < each; ++i) {
                const std::string value = "choices.lift_stop=" + std::to_string(20 + w) + "." + std::to_string(i);
                const Run result = record({"a.toml", "--recheck", value});
                if (result.code > 1) ++failed[static_cast<std::size_t>(w)];
            }
        });
    }
    for (std::thread& thread : threads) thread.join();
    CHECK(std::count(failed.begin(), failed.end(), 0) == writers);
    std::set<std::string> values;
    for (const LogEntry& entry : entries_of("a.log.toml")) values.insert(entry.value);
    CHECK(values.size() == writers * each);
}

TEST_CASE("record log: while somebody else holds the folder nothing is written", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    const int held = open(".", O_RDONLY | O_DIRECTORY);
    REQUIRE(held >= 0);
    REQUIRE(flock(held, LOCK_EX) == 0);
    const Run refused = record({"a.toml", "choices.lift_stop=26"});
    CHECK(refused.code == 4);
    CHECK(contains(unwrap(refused.err), "another program is writing"));
    CHECK(read_file("a.toml") == mine);
    close(held);
    CHECK(record({"a.toml", "choices.lift_stop=26"}).code == 0);
}

TEST_CASE("record log: the table holds every entry on the page, chosen by key, hostile names escaped", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    const std::string hostile = "\xE6\x8B\x96\xE6\x8B\x96 \"x\" ]] \\ = # '''";
    const Run none = record({"a.toml", "--log"});
    CHECK(none.code == 0);
    CHECK(contains(none.out, "There is no log a.log.toml yet"));
    REQUIRE(record({"a.toml", "choices.lift_stop=26", "--by", hostile, "--note", hostile}).code == 0);
    REQUIRE(record({"a.toml", "tractor.lower_link.half_spread_at_pivot=8.5", "tractor.pto.stub_x=11"}).code == 0);
    REQUIRE(record({"a.toml", "name=" + std::string(90, 'n'), "--date", "2025-01-02"}).code == 0);
    // A log that somebody else wrote may steer a terminal.
    write_file("a.log.toml", read_file("a.log.toml") +
                                 "[[entry]]\ndate = \"2026-05-01\"\nkey = \"choices.lift_stop\"\nvalue = "
                                 "\"\\u001b[31m\\u202e\"\nby = \"\\r\\n\\u0007\"\n");
    const Run all = record({"a.toml", "--log"});
    CAPTURE(all.out, all.err);
    REQUIRE(all.code == 0);
    CHECK(contains(all.out, "Log: a.log.toml, 5 entries\n"));
    CHECK(contains(all.out, "Date        Kind     Key                              Before        Value\n"));
    CHECK(contains(all.out, "2026-03-01  reading  choices.lift_stop                27 in         26 (in)\n"));
    CHECK(contains(all.out, hostile));
    CHECK(contains(all.out, "the one before is from"));
    for (const char c : all.out) CHECK((static_cast<unsigned char>(c) >= 0x20 || c == '\n'));
    CHECK_FALSE(contains(all.out, "\xE2\x80\xAE"));
    std::string columns = all.out;
    for (std::size_t at = columns.find("\xE6\x8B\x96"); at != std::string::npos; at = columns.find("\xE6\x8B\x96"))
        columns.replace(at, 3, "ww");
    CHECK(fits_page(columns));
    const Run some = record({"a.toml", "--log", "tractor"});
    CHECK(contains(some.out, "5 entries, 2 shown"));
    CHECK_FALSE(contains(some.out, "choices."));
    CHECK(contains(record({"a.toml", "--log", "choices.lift"}).out, "0 shown"));
    const Json json = Json::parse(record({"a.toml", "--log", "choices.lift_stop", "--format", "json"}).out);
    CHECK(json["schema"] == "hitchwright.log");
    CHECK(json["entries"].size() == 2);
    CHECK(json["entries"][0]["by"] == hostile);
    CHECK(json["entries"][0]["before"] == "27 in");
    CHECK(json["entries"][1]["before"].is_null());
    const auto csv = split_lines(record({"a.toml", "--log", "tractor", "--format", "csv"}).out);
    CHECK(csv.size() == 3);
}

TEST_CASE("record log: it can be read when the set-up no longer can, or is gone", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    REQUIRE(record({"a.toml", "choices.lift_stop=26"}).code == 0);
    write_file("a.toml", "kind = = 1\n");
    CHECK(contains(record({"a.toml", "--log"}).out, "choices.lift_stop"));
    std::filesystem::remove("a.toml");
    CHECK(contains(record({"a.toml", "--log"}).out, "choices.lift_stop"));
    CHECK(record({"b.toml", "--log"}).code == 3);
    CHECK(record({"utility-cutter-fits", "--log"}).code == 3);
    CHECK(record({"no-such-name", "--log"}).code == 3);
}

TEST_CASE("recheck: values go into the log alone, and the answer says what has moved", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    const Run moved = record({"a.toml", "--recheck", "choices.lift_stop=26 3/4", "tractor.upper_link_pin[2].z=32",
                              "choices.mast_pin=1", "--by", "A."});
    CAPTURE(moved.err, moved.out);
    CHECK(moved.code == 1);
    // A decision of 27 in, and a tape to the floor: 1/8 in.
    CHECK(contains(unwrap(moved.out), "27 in -> 26 3/4: HAS MOVED by -0.250 in, 2.0 times the 0.125 in"));
    CHECK(contains(unwrap(moved.out), "never measured here (preset)"));
    CHECK(contains(unwrap(moved.out), "choices.mast_pin: 1 -> 1: as it was"));
    CHECK(contains(unwrap(moved.out), "The set-up stays as it is. Set back what has moved"));
    CHECK(contains(moved.out, "Cautions\n"));
    CHECK(fits_page(moved.out));
    CHECK(read_file("a.toml") == mine);
    const auto entries = entries_of("a.log.toml");
    REQUIRE(entries.size() == 3);
    CHECK(entries[0] ==
          LogEntry{"2026-03-01", "A.", LogKind::recheck, "1 h", "choices.lift_stop", "in", "26 3/4", "27 in", "", ""});
    const Run still = record({"a.toml", "--after", "10h", "choices.lift_stop=27 1/16 in"});
    CHECK(still.code == 0);
    CHECK(contains(unwrap(still.out), "has not moved as far as can be told: +0.062 in"));
    CHECK(entries_of("a.log.toml").at(3).after == "10 h");
    CHECK(record({"a.toml", "--recheck", "choices.lift_stp=27", "choices.lift_stop=2 kg"}).code == 3);
    CHECK(entries_of("a.log.toml").size() == 4);
    // The tractor's file was not taken here, the recheck before was.
    const Run second = record({"a.toml", "--after", "10h", "tractor.upper_link_pin[2].z=32 1/2 in"});
    CHECK(second.code == 1);
    CHECK(contains(unwrap(second.out),
                   "tractor.upper_link_pin[2].z: 32 of 2026-03-01 -> 32 1/2 in: HAS MOVED by +0.500 in"));
    CHECK(record({"utility-cutter-fits", "--recheck", "choices.lift_stop=27"}).code == 3);
}

TEST_CASE("recheck: without values it lists what to take again, of any set-up, and writes nothing", "[cli]") {
    const WorkingFolder folder;
    for (const std::string& demo : demo_setups()) {
        const Run result = record({demo, "--recheck"});
        CAPTURE(demo, result.out, result.err);
        CHECK(result.code == 0);
        CHECK(contains(unwrap(result.out), "to take again"));
        CHECK(contains(result.out, "Cautions\n"));
        CHECK(contains(result.out, "guards, their chains"));
        CHECK(fits_page(result.out));
    }
    write_file("a.toml", mine);
    REQUIRE(record({"a.toml", "choices.lift_stop=26"}).code == 0);
    const std::string log = read_file("a.log.toml");
    const Run own = record({"a.toml", "--after", "30 min"});
    CHECK(contains(own.out, "Recheck after 30 min of work: a.toml"));
    CHECK(contains(unwrap(own.out), "choices.lift_stop 26.000 in; has moved when it differs by more than 0.125 in"));
    CHECK(contains(own.out, "Last reading 2026-03-01: 26\n"));
    CHECK(read_file("a.log.toml") == log);
}

TEST_CASE("record log: wrong options are all named", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    const auto refused = [&](const std::vector<std::string>& args, const std::vector<std::string>& said) {
        const Run result = record(args);
        CAPTURE(show(args), result.err);
        CHECK(result.code == 2);
        for (const std::string& words : said) CHECK(contains(unwrap(result.err), words));
        CHECK(read_file("a.toml") == mine);
        CHECK_FALSE(std::filesystem::exists("a.log.toml"));
    };
    refused({"a.toml"}, {"KEY=VALUE is missing"});
    refused({"a.toml", "choices.lift_stop=26", "--date", "2026-02-30", "--by", "a\x1b[m", "--note", "", "--after", "1"},
            {"--date: \"2026-02-30\"", "--by:", "cannot be printed", "--note: nothing was read", "--after: \"1\""});
    for (const char* after : {"0 h", "1 d", "-1 h", "h", "1e3 h", "999999999 h", "1 h 2"})
        refused({"a.toml", "--after", after}, {"--after"});
    refused({"a.toml", "choices.lift_stop=26", "--by", std::string(81, 'x')}, {"80 characters"});
    refused({"a.toml", "choices.lift_stop=26", "--by", "caf\xE9"}, {"cannot be printed"});
    refused({"a.toml", "choices.lift_stop=26", "--format", "csv"}, {"--format"});
    refused({"a.toml", "--log", "--date", "2026-01-01", "--dry-run"},
            {"--date: --log only prints", "--dry-run: --log"});
    refused({"a.toml", "--log", "choices.lift_stop=26"}, {"keys without a value"});
}

TEST_CASE("today: the day of SOURCE_DATE_EPOCH in UTC, else that of the clock", "[cli]") {
    const auto at = [](const char* epoch) { return find_today([epoch](const char*) { return epoch; }); };
    CHECK(at("0").date == "1970-01-01");
    CHECK(at("1772323199").date == "2026-02-28");
    CHECK(at("1772323200").date == "2026-03-01");
    CHECK(at("253402300799").date == "9999-12-31");
    for (const char* wrong : {"-1", "1.5", " 1", "253402300800", "99999999999999999999", "x"}) {
        CAPTURE(wrong);
        CHECK(contains(at(wrong).message, "SOURCE_DATE_EPOCH"));
    }
    // Any day will do, as long as it is one.
    CHECK(is_iso_date(at(nullptr).date));
    CHECK(is_iso_date(at("").date));
    const WorkingFolder folder;
    write_file("a.toml", mine);
    World world;
    world.variables["SOURCE_DATE_EPOCH"] = "soon";
    CHECK(record({"a.toml", "choices.lift_stop=26"}, world).code == 2);
    CHECK(record({"a.toml", "choices.lift_stop=26", "--date", "2026-03-02"}, world).code == 0);
}

TEST_CASE("record log: every key of the JSON answers is documented and every documented key is written", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    // One run has readings to take, the other values that were taken.
    Json both = Json::parse(record({"a.toml", "--recheck", "--format", "json"}).out);
    CHECK(both["values"].empty());
    const Json taken = Json::parse(record({"a.toml", "--recheck", "choices.lift_stop=26", "--format", "json"}).out);
    CHECK(taken["readings"].empty());
    CHECK(taken["values"][0]["outcome"] == "moved");
    CHECK(taken["values"][0]["moved"].get<double>() == Approx(-25.4).margin(1e-9));
    CHECK(taken["values"][0]["error"].get<double>() == Approx(3.175).margin(1e-9));
    CHECK(taken["logged"] == 1);
    both["values"] = taken["values"];
    check_documented(both.dump(), "hitchwright.recheck");
    check_documented(record({"a.toml", "--log", "--format", "json"}).out, "hitchwright.log");
}
