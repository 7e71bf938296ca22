// New values in the text of a file: which bytes change, in every form a key can stand in.
//
// The second route to the place of a value is the TOML library's own position of it.

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>
#include <string>

#include "presets/record_values.h"
#include "presets/source_map.h"
#include "presets/toml_reader.h"
#include "presets/tracked_text.h"
#include "tests/presets/find_byte.h"

using namespace hitchwright;
using test::find_byte;

namespace {

EditedText edit(const std::string& text, const std::vector<std::string>& typed) {
    std::vector<KeyValue> values;
    for (const std::string& one : typed) values.push_back(split_key_value(one).value());
    return edit_values(text, "x.toml", values);
}

std::string edited(const std::string& text, const std::vector<std::string>& typed) {
    const EditedText result = edit(text, typed);
    for (const Problem& p : result.problems) UNSCOPED_INFO(format_problem(p));
    REQUIRE(result.ok());
    return result.text;
}

const std::string head = "kind = \"setup\"\nversion = 1\nunit = \"in\"\n";

// Every value of the map begins where the library says.
int compare_places(const SourceNode& node, const SpanNode& span, const std::string& text) {
    int compared = 0;
    if (span.kind == SpanKind::value || span.kind == SpanKind::inline_table) {
        CAPTURE(node.key, node.line, node.column);
        CHECK(span.span.begin == find_byte(text, node.line, node.column));
        ++compared;
    }
    REQUIRE(node.members.size() == span.members.size());
    for (std::size_t i = 0; i < node.members.size(); ++i) {
        const SpanNode* other = node.kind == SourceKind::table ? span.find(node.members[i].key) : &span.members[i];
        REQUIRE(other != nullptr);
        compared += compare_places(node.members[i], *other, text);
    }
    return compared;
}

const std::string every_form =
    "# head = 1\nkind = \"setup\"\nversion = 1\nunit = 'in' # c\nname = \"\"\"a \"\"quoted\"\" \\\n  # no comment\nb = "
    "2\"\"\"\n"
    "note = '''one'two'''\n\"tractor\" . use = \"compact\"\ntractor.pto.stub_x = 11\n"
    "[implement]\npic = { x = 12, z = 9 , \"slope\" = { value = \"1 deg\", note = \"a } ] # b\" } }\n"
    "mast_pin = [ # holes\n  { name = \"\xC3\xA4\", height = 18 }, # first\n  { name = 2, height = \"20 1/2 in\" }\n]\n"
    "[[implement.point]]\nname = \"\xE2\x82\xAC\"\n  x = 7 # \xF0\x9F\x9A\x9C\n[[implement.point]]\nx = -1.5\nz = 2\n"
    "[driveline.shaft]\nclosed_length = 31\n[choices]\nlift_stop=27\t#x\n[direct.a.b]\nwhen = 1979-05-27 07:32:00 # "
    "t\n";

}  // namespace

TEST_CASE("source map: values stand where the TOML library finds them, in every form and line end", "[oracle]") {
    std::string crlf;
    for (const char c : every_form) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
    for (const std::string& text : {every_form, crlf}) {
        const ParsedToml parsed = parse_toml(text, "x");
        for (const Problem& p : parsed.problems) UNSCOPED_INFO(format_problem(p));
        REQUIRE(parsed.ok());
        const auto map = map_source(text);
        REQUIRE(map);
        CHECK(compare_places(parsed.root, map->root, text) >= 20);
        // The line in the long text begins with # and is none.
        CHECK(map->comments.size() == 1);
    }
}

TEST_CASE("source edit: a value is replaced in its place, in the manner it stands there", "[analytic]") {
    const auto swap = [](const std::string& before, const std::string& set, const std::string& after) {
        CAPTURE(before, set);
        CHECK(edited(head + before, {set}) == head + after);
    };
    swap("[choices]\nlift_stop = 27  # \xC3\xA4\n", "choices.lift_stop=26.5",
         "[choices]\nlift_stop = 26.5  # \xC3\xA4\n");
    swap("[choices]\nlift_stop\t=\t27", "choices.lift_stop=26 1/2 in", "[choices]\nlift_stop\t=\t\"26 1/2 in\"");
    swap("choices.lift_stop = '27 in'\n", "choices.lift_stop=2'2 1/2\"", "choices.lift_stop = \"2'2 1/2\\\"\"\n");
    swap("choices.lift_stop = '27 in'\n", "choices.lift_stop=26 in", "choices.lift_stop = '26 in'\n");
    swap("choices.mast_pin = 1\n", "choices.mast_pin=2", "choices.mast_pin = 2\n");
    swap("choices.mast_pin = 1\n", "choices.mast_pin=top", "choices.mast_pin = \"top\"\n");
    swap("choices.mast_pin = \"1\"\n", "choices.mast_pin=2", "choices.mast_pin = \"2\"\n");
    swap("[tractor]\npto = { stub_x = 11,stub_z=21 }\n", "tractor.pto.stub_z=22",
         "[tractor]\npto = { stub_x = 11,stub_z=22 }\n");
    swap("[tractor.pto]\nspeeds_rpm = [ 540 ] # x\n", "tractor.pto.speeds_rpm=540,  1000",
         "[tractor.pto]\nspeeds_rpm = [540, 1000] # x\n");
    swap("[tractor.pto]\nspeeds_rpm = [\n 540, # a\n 1000 ] # x\nsplines = 6\n", "tractor.pto.speeds_rpm=540",
         "[tractor.pto]\nspeeds_rpm = [540] # x\nsplines = 6\n");
    swap("[coupler]\nfitted = true\n", "coupler.fitted=false", "[coupler]\nfitted = false\n");
    swap("tractor.pto.stub_x = { value = 11, note = \"page 3\" }\n", "tractor.pto.stub_x=12",
         "tractor.pto.stub_x = { value = 12, note = \"page 3\" }\n");
    swap("[tractor.pto.stub_x]\nnote = \"v\"\nvalue = 11\n", "tractor.pto.stub_x=12",
         "[tractor.pto.stub_x]\nnote = \"v\"\nvalue = 12\n");
    swap("[tractor.pto]\nsplines = 6\n", "tractor.pto.splines=021", "[tractor.pto]\nsplines = 21\n");
    swap("name = \"\"\"\na\"\"\"\n", "name=\xE6\x8B\x96 \"1\"", "name = \"\xE6\x8B\x96 \\\"1\\\"\"\n");
}

TEST_CASE("source edit: items of lists are found by their name, or by their place where they have none", "[analytic]") {
    const std::string blocks =
        "[[tractor.upper_link_pin]]\nname = \"low\"\nx = 8\n[[tractor.upper_link_pin]]\nx = 9 # z\n"
        "[[tractor.upper_link_pin]]\nname = 2\nx = 10\n";
    CHECK(edited(head + blocks, {"tractor.upper_link_pin[2].x=11"}) ==
          head +
              "[[tractor.upper_link_pin]]\nname = \"low\"\nx = 8\n[[tractor.upper_link_pin]]\nx = 11 # z\n"
              "[[tractor.upper_link_pin]]\nname = 2\nx = 10\n");
    const std::string braces = "[implement]\nmast_pin = [ { name = \"a\", height = 18 },\n  {name=\"b\",height=20} ]\n";
    CHECK(edited(head + braces, {"implement.mast_pin[b].height=21", "implement.mast_pin[a].offset=1"}) ==
          head + "[implement]\nmast_pin = [ { name = \"a\", height = 18, offset = 1 },\n  {name=\"b\",height=21} ]\n");
    CHECK(edited(head + blocks, {"tractor.upper_link_pin[low].z=32"}) ==
          head +
              "[[tractor.upper_link_pin]]\nname = \"low\"\nx = 8\nz = 32\n[[tractor.upper_link_pin]]\nx = 9 # z\n"
              "[[tractor.upper_link_pin]]\nname = 2\nx = 10\n");
    for (const std::string& text : {head, head + "[tractor]\nuse = \"compact\"\n", head + blocks}) {
        const EditedText result = edit(text, {"tractor.upper_link_pin[top].x=11"});
        REQUIRE(result.problems.size() == 1);
        CHECK(result.text.empty());
        CHECK(result.problems.front().key == "tractor.upper_link_pin[top].x");
    }
}

TEST_CASE("source edit: an open key loses its # where it stands, in its own table only", "[analytic]") {
    const std::string text =
        head +
        "# name =  # name shown\n\n[tractor.lift_rod]\n# of the rod\n# length =\n  #   free_rise =   # up\n\n"
        "# [[tractor.lift_rod_hole]]\n# pin_along_link =\n\n[choices]\n# lift_stop = 27\n# mast_pin =\n";
    const auto line = [&](const std::string& set, const std::string& from, const std::string& to) {
        std::string wanted = text;
        wanted.replace(wanted.find(from), from.size(), to);
        CAPTURE(set);
        CHECK(edited(text, {set}) == wanted);
    };
    line("tractor.lift_rod.length=20", "# length =", "length = 20");
    line("tractor.lift_rod.free_rise=1/2 in", "#   free_rise =   # up", "free_rise = \"1/2 in\"   # up");
    line("name=x", "# name =  #", "name = \"x\"  #");
    line("choices.mast_pin=1", "# mast_pin =", "mast_pin = \"1\"");
    // Below a header that is a comment, or with something typed behind the =: a remark of the person, left alone.
    line("tractor.lift_rod.pin_along_link=22", "[tractor.lift_rod]\n", "[tractor.lift_rod]\npin_along_link = 22\n");
    line("choices.lift_stop=26", "[choices]\n", "[choices]\nlift_stop = 26\n");
}

TEST_CASE("source edit: a table that is a comment is opened, when nothing else would come below it", "[analytic]") {
    const std::string block = "\n# The coupler:\n# [coupler]\n# fitted =\n# set_back =  # level\n\n";
    CHECK(edited(head + block, {"coupler.fitted=true", "coupler.set_back=4"}) ==
          head + "\n# The coupler:\n[coupler]\nfitted = true\nset_back = 4  # level\n\n");
    const std::string before_keys = head + "[choices]\n# [coupler]\n# fitted =\nlift_stop = 27\n";
    CHECK(edited(before_keys, {"coupler.fitted=true"}) == before_keys + "\n[coupler]\nfitted = true\n");
}

TEST_CASE("source edit: what is not there goes to the end of its table, a table to the end of the file", "[analytic]") {
    const auto add = [](const std::string& before, const std::string& set, const std::string& after) {
        CAPTURE(before, set);
        CHECK(edited(before, {set}) == after);
    };
    add(head + "[choices]\n  lift_stop = 27 # x\n\n# of the shaft\n[driveline]\nuse = \"a\"\n", "choices.mast_pin=1",
        head + "[choices]\n  lift_stop = 27 # x\n  mast_pin = \"1\"\n\n# of the shaft\n[driveline]\nuse = \"a\"\n");
    add(head + "[tractor]\nuse = \"compact\"\n", "tractor.pto.stub_x=11",
        head + "[tractor]\nuse = \"compact\"\npto.stub_x = 11\n");
    add(head + "tractor.use = \"compact\"\n", "tractor.pto.stub_x=11",
        head + "tractor.use = \"compact\"\ntractor.pto.stub_x = 11\n");
    add(head + "tractor = { use = \"compact\" }\n", "tractor.pto.stub_x=11",
        head + "tractor = { use = \"compact\", pto.stub_x = 11 }\n");
    add(head + "tractor = {}\n", "tractor.pto.stub_x=11", head + "tractor = { pto.stub_x = 11 }\n");
    add(head + "[tractor.pto]\nsplines = 6\n[choices]\n", "tractor.hitch.category=1",
        head + "[tractor.pto]\nsplines = 6\n[choices]\n\n[tractor.hitch]\ncategory = \"1\"\n");
    add(head + "[tractor.pto]\nsplines = 6\n", "tractor.name=Blue",
        head + "[tractor.pto]\nsplines = 6\n\n[tractor]\nname = \"Blue\"\n");
    add(head + "[[tractor.upper_link_pin]]\nx = 1\n", "tractor.name=Blue",
        head + "[[tractor.upper_link_pin]]\nx = 1\n\n[tractor]\nname = \"Blue\"\n");
    add("kind = \"setup\"", "choices.lift_stop=26", "kind = \"setup\"\n\n[choices]\nlift_stop = 26\n");
    add("kind = \"setup\"\r\n[choices]\r\nlift_stop = 27", "choices.mast_pin=1",
        "kind = \"setup\"\r\n[choices]\r\nlift_stop = 27\r\nmast_pin = \"1\"");
    add("kind = \"setup\"\r\n[choices]\r\n# mast_pin =\r\n", "choices.mast_pin=1",
        "kind = \"setup\"\r\n[choices]\r\nmast_pin = \"1\"\r\n");
    add("kind = \"setup\"\r\n", "coupler.fitted=true", "kind = \"setup\"\r\n\r\n[coupler]\r\nfitted = true\r\n");
    add(head + "note = \"\"\"\n# mast_pin =\n[choices]\n\"\"\"\n[choices]\nlift_stop = 1 # '''\n", "choices.mast_pin=1",
        head + "note = \"\"\"\n# mast_pin =\n[choices]\n\"\"\"\n[choices]\nlift_stop = 1 # '''\nmast_pin = \"1\"\n");
}

TEST_CASE("source edit: a value that is taken away becomes a comment, where it stands alone", "[analytic]") {
    const auto take = [](const std::string& before, const std::string& set, const std::string& after) {
        CAPTURE(before, set);
        CHECK(edited(head + before, {set}) == head + after);
    };
    take("[choices]\n  lift_stop = 27 # x\nmast_pin = 1\n", "choices.lift_stop=",
         "[choices]\n  # lift_stop = 27 # x\nmast_pin = 1\n");
    take("choices.lift_stop = 27", "choices.lift_stop=", "# choices.lift_stop = 27");
    take("[tractor]\npto.stub_x = { value = 11, note = \"a\" }\r\n", "tractor.pto.stub_x=",
         "[tractor]\n# pto.stub_x = { value = 11, note = \"a\" }\r\n");
    take("[tractor.pto]\nspeeds_rpm = [ # a\n  540,\n]\nsplines = 6\n", "tractor.pto.speeds_rpm=",
         "[tractor.pto]\n# speeds_rpm = [ # a\n#   540,\n# ]\nsplines = 6\n");
    take("note = '''\nlift_stop = 1\n'''\n[choices]\n", "note=", "# note = '''\n# lift_stop = 1\n# '''\n[choices]\n");
    take("[[tractor.upper_link_pin]]\nname = \"low\"\nx = 8\n", "tractor.upper_link_pin[low].x=",
         "[[tractor.upper_link_pin]]\nname = \"low\"\n# x = 8\n");
    take("[choices]\nmast_pin = 1\n", "choices.lift_stop=", "[choices]\nmast_pin = 1\n");
    // The first line of the file; then a value back in its place: the comment is a remark and stays.
    CHECK(edited("note = \"a\"\n" + head, {"note="}) == "# note = \"a\"\n" + head);
    CHECK(edited(head + "# note = \"a\"\n", {"note=b"}) == head + "note = \"b\"\n# note = \"a\"\n");
    // Two at once, one taken and one put.
    CHECK(edited(head + "[choices]\nlift_stop = 27\nmast_pin = 1\n", {"choices.lift_stop=", "choices.mast_pin=2"}) ==
          head + "[choices]\n# lift_stop = 27\nmast_pin = 2\n");
    for (const std::string& text :
         {head + "choices = { lift_stop = 27 }\n", head + "[choices.lift_stop]\nvalue = 27\n",
          head + "choices.lift_stop.value = 27\n"}) {
        const EditedText result = edit(text, {"choices.lift_stop="});
        CAPTURE(text, result.text);
        REQUIRE(result.problems.size() == 1);
        CHECK(result.problems.front().message == "this value cannot become a comment where it stands");
    }
}

TEST_CASE("source edit: the changed lines are those a comparison of both texts finds", "[random]") {
    std::mt19937 random(20260114);
    INFO("seed 20260114");
    const std::vector<std::string> sets = {"choices.lift_stop=26",       "choices.mast_pin=2",
                                           "tractor.pto.speeds_rpm=540", "tractor.pto.stub_x=11 1/4 in",
                                           "coupler.fitted=false",       "name=n",
                                           "tractor.hitch.category=2"};
    const std::string text =
        head + "# name =\n[tractor.pto]\nspeeds_rpm = [ # x\n 540,\n 1000 ]\n# stub_x =\n\n[choices]\nlift_stop = 27\n";
    for (int run = 0; run < 200; ++run) {
        std::vector<std::string> chosen = sets;
        std::shuffle(chosen.begin(), chosen.end(), random);
        chosen.resize(1 + random() % sets.size());
        const EditedText result = edit(text, chosen);
        REQUIRE(result.ok());
        // Lines that are not named are the same in both, in order.
        std::vector<std::string> before, after;
        for (const auto line : split_text_lines(text)) before.emplace_back(line);
        for (const auto line : split_text_lines(result.text)) after.emplace_back(line);
        for (auto change = result.lines.rbegin(); change != result.lines.rend(); ++change) {
            if (change->new_line > 0) {
                CHECK(after.at(static_cast<std::size_t>(change->new_line) - 1) == change->new_text);
            }
        }
        std::vector<std::string> rest_before = before, rest_after = after;
        for (auto change = result.lines.rbegin(); change != result.lines.rend(); ++change) {
            if (change->new_line > 0) rest_after.erase(rest_after.begin() + change->new_line - 1);
        }
        std::vector<int> gone;
        for (const LineChange& change : result.lines) {
            if (change.old_line > 0) {
                CHECK(before.at(static_cast<std::size_t>(change.old_line) - 1) == change.old_text);
                gone.push_back(change.old_line);
            }
        }
        CHECK(std::is_sorted(gone.begin(), gone.end()));
        for (auto line = gone.rbegin(); line != gone.rend(); ++line) rest_before.erase(rest_before.begin() + *line - 1);
        CHECK(rest_before == rest_after);
        for (std::size_t i = 0; i < chosen.size(); ++i) {
            const ValueEdit& one = result.edits.at(i);
            CAPTURE(chosen[i], result.text);
            REQUIRE(one.line > 0);
            CHECK(after.at(static_cast<std::size_t>(one.line) - 1).find(one.new_literal) != std::string::npos);
        }
    }
}

TEST_CASE("source map: of damaged texts that can still be read, every value is where the library finds it",
          "[random]") {
    const unsigned seed = 20260117;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const std::string spice = "\"'#[]{}=.,\\\n\r\t a1_-";
    int read = 0, followed = 0;
    for (int run = 0; run < 20000; ++run) {
        std::string text = every_form;
        for (std::size_t i = 0, count = 1 + random() % 3; i < count; ++i) {
            const std::size_t at = random() % text.size();
            const char c = spice[random() % spice.size()];
            switch (random() % 3) {
                case 0:
                    text.erase(at, 1);
                    break;
                case 1:
                    text.insert(at, 1, c);
                    break;
                default:
                    text[at] = c;
            }
        }
        const auto map = map_source(text);
        const ParsedToml parsed = parse_toml(text, "x");
        if (!parsed.ok()) continue;
        ++read;
        if (!map) continue;
        ++followed;
        CAPTURE(text);
        CHECK(compare_places(parsed.root, map->root, text) > 0);
    }
    // All but the few that the library takes and the standard does not.
    CHECK(read >= 1000);
    CHECK(followed >= read * 99 / 100);
}

TEST_CASE("source edit: a damaged text is edited as its meaning wants, or refused", "[random]") {
    const unsigned seed = 20260119;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const std::string base =
        head +
        "# name =\n[tractor]\nuse = \"compact\" # a\npto = { stub_x = 11 }\n# [coupler]\n# fitted =\n"
        "[choices]\nlift_stop = 27\n# mast_pin =\nnote.x = '''\n# mast_pin =\n'''\n";
    const std::string spice = "\"'#[]{}=.,\\\n\r\t a1";
    int edited_texts = 0;
    for (int run = 0; run < 5000; ++run) {
        std::string text = base;
        for (int i = 0; i < 2; ++i) {
            const std::size_t at = random() % text.size();
            text[at] = spice[random() % spice.size()];
        }
        if (!parse_toml(text, "x").ok()) continue;
        const EditedText result = edit(text, {"choices.lift_stop=26", "choices.mast_pin=1", "tractor.pto.stub_z=21",
                                              "name=n", "coupler.fitted=true"});
        if (!result.ok()) continue;
        ++edited_texts;
        CAPTURE(text, result.text);
        // Taking the changed lines away leaves the same lines of both.
        std::vector<std::string> rest_before, rest_after;
        for (const auto line : split_text_lines(text)) rest_before.emplace_back(line);
        for (const auto line : split_text_lines(result.text)) rest_after.emplace_back(line);
        for (auto c = result.lines.rbegin(); c != result.lines.rend(); ++c) {
            if (c->new_line > 0) rest_after.erase(rest_after.begin() + c->new_line - 1);
        }
        for (auto c = result.lines.rbegin(); c != result.lines.rend(); ++c) {
            if (c->old_line > 0) rest_before.erase(rest_before.begin() + c->old_line - 1);
        }
        CHECK(rest_before == rest_after);
        CHECK(parse_toml(result.text, "x").ok());
    }
    CHECK(edited_texts >= 500);
}

TEST_CASE("source edit: an origin makes a table of a value that stands alone, whose own text stays as typed", "[oracle]") {
    const std::string text = head + "tractor.pto.stub_x = 12.50 # from the axle\n[choices]\n  lift_stop\t= \"3'2 1/2\\\"\"   # fixed\r\n"
                                    "[implement]\npic = { x = 1_2, z = 9 }\nmast_pin = [ { name = \"a\", height = '18 in' }, { name = 2, height = 20 } ]\n";
    std::string wanted = text;
    const auto wrap = [&](const std::string& literal, const std::string& word) {
        const std::size_t at = wanted.find(literal);
        REQUIRE(at != std::string::npos);
        wanted.replace(at, literal.size(), "{ value = " + literal + ", origin = \"" + word + "\" }");
    };
    wrap("12.50", "manual");
    wrap("\"3'2 1/2\\\"\"", "assumed");
    wrap("1_2", "preset");
    wrap("'18 in'", "manual");
    CHECK(edited(text, {"tractor.pto.stub_x.origin=manual", "choices.lift_stop.origin=assumed", "implement.pic.x.origin=preset",
                        "implement.mast_pin[a].height.origin=manual"}) == wanted);
    // Said again, only the word changes; a value put in later goes into its table.
    const std::string again = edited(wanted, {"tractor.pto.stub_x.origin=measured"});
    wanted.replace(wanted.find("\"manual\""), 8, "\"measured\"");
    CHECK(again == wanted);
    wanted.replace(wanted.find("12.50"), 5, "13");
    CHECK(edited(again, {"tractor.pto.stub_x=13"}) == wanted);
}

TEST_CASE("source edit: an origin goes into the table that a value has, in every form", "[oracle]") {
    CHECK(edited(head + "[choices]\nlift_stop = { value = 27, note = \"bent\" } # x\n", {"choices.lift_stop.origin=manual"}) ==
          head + "[choices]\nlift_stop = { value = 27, note = \"bent\", origin = \"manual\" } # x\n");
    CHECK(edited(head + "[choices]\nlift_stop = { origin = 'preset', value = 27 }\n", {"choices.lift_stop.origin=manual"}) ==
          head + "[choices]\nlift_stop = { origin = 'manual', value = 27 }\n");
    CHECK(edited(head + "[choices]\nlift_stop.value = 27 # x\nmast_pin = 1\n", {"choices.lift_stop.origin=manual"}) ==
          head + "[choices]\nlift_stop.value = 27 # x\nmast_pin = 1\nlift_stop.origin = \"manual\"\n");
    CHECK(edited(head + "[choices.lift_stop]\nvalue = 27 # x\n\n[tractor]\nuse = \"compact\"\n", {"choices.lift_stop.origin=manual"}) ==
          head + "[choices.lift_stop]\nvalue = 27 # x\norigin = \"manual\"\n\n[tractor]\nuse = \"compact\"\n");
    // Value and origin at once.
    CHECK(edited(head + "[choices]\nlift_stop = 27 # x\n", {"choices.lift_stop=25 in", "choices.lift_stop.origin=manual"}) ==
          head + "[choices]\nlift_stop = { value = \"25 in\", origin = \"manual\" } # x\n");
}

TEST_CASE("source edit: an origin of a value that is not in the text, or is no single value, is refused", "[oracle]") {
    const EditedText none = edit(head + "[choices]\n# lift_stop = 27\n", {"choices.lift_stop.origin=manual"});
    REQUIRE(none.problems.size() == 1);
    CHECK(none.problems.front().message == "the value is not in this file, so that nothing can be said beside it");
    const EditedText list = edit(head + "[choices]\nlift_stop = [27]\n", {"choices.lift_stop.origin=manual"});
    REQUIRE(list.problems.size() == 1);
    CHECK(list.problems.front().message == "no single value stands here, so that nothing can be said beside it");
}
