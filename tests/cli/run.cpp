#include "tests/cli/run.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <sstream>
#include <stdexcept>

#include <unistd.h>

#include "cli/run_cli.h"
#include "presets/library.h"

namespace hitchwright::test {

Run run(const std::vector<std::string>& args, const World& world) {
    std::istringstream in(world.input);
    std::ostringstream out, err;
    const auto variable = [&world](const char* name) -> const char* {
        const auto found = world.variables.find(name);
        return found == world.variables.end() ? nullptr : found->second.c_str();
    };
    Run result;
    result.code = run_cli(args, {in, out, err, world.terminal, variable});
    result.out = out.str();
    result.err = err.str();
    return result;
}

std::vector<std::string> split_line(const std::string& line) {
    std::vector<std::string> words;
    std::string word;
    bool inside = false;
    char quote = 0;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (c == '\\' && quote != '\'' && i + 1 < line.size()) {
            ++i;
            if (line[i] != '\n') word += line[i];
            inside = inside || line[i] != '\n';
        } else if (quote != 0) {
            if (c == quote)
                quote = 0;
            else
                word += c;
        } else if (c == '"' || c == '\'') {
            quote = c;
            inside = true;
        } else if (c == ' ' || c == '\n') {
            if (inside) words.push_back(word);
            word.clear();
            inside = false;
        } else {
            word += c;
            inside = true;
        }
    }
    if (inside) words.push_back(word);
    return words;
}

Run run_line(const std::string& line, const World& world) {
    std::vector<std::string> words = split_line(line);
    if (words.empty() || words.front() != "hitchwright") throw std::invalid_argument("not a line of ours: " + line);
    words.erase(words.begin());
    const auto from = std::find(words.begin(), words.end(), "<");
    if (from == words.end() || from + 1 == words.end()) return run(words, world);
    World fed = world;
    fed.input = read_file(*(from + 1));
    words.erase(from, from + 2);
    return run(words, fed);
}

std::string show(const std::vector<std::string>& args) {
    std::string text = "hitchwright";
    for (const std::string& arg : args) text += " '" + arg + "'";
    return text;
}

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

std::vector<std::string> split_lines(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

std::string unwrap(const std::string& text) {
    std::string result;
    std::istringstream stream(text);
    for (std::string word; stream >> word;) result += (result.empty() ? "" : " ") + word;
    return result;
}

std::string read_file(const std::filesystem::path& path) {
    std::ifstream stream(path, std::ios::binary);
    if (!stream) throw std::runtime_error("cannot read " + path.string());
    return {std::istreambuf_iterator<char>(stream), {}};
}

void write_file(const std::filesystem::path& path, const std::string& text) {
    std::ofstream stream(path, std::ios::binary);
    stream << text;
    if (!stream.flush()) throw std::runtime_error("cannot write " + path.string());
}

WorkingFolder::WorkingFolder() : before_(std::filesystem::current_path()) {
    std::string name = (std::filesystem::temp_directory_path() / "hitchwright-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for a test");
    path_ = name;
    std::filesystem::current_path(path_);
}

WorkingFolder::~WorkingFolder() {
    std::error_code ignored;
    std::filesystem::current_path(before_, ignored);
    std::filesystem::remove_all(path_, ignored);
}

std::vector<std::string> demo_setups() {
    std::vector<std::string> keys;
    for (const PresetEntry& entry : Library{}.list(FileKind::setup)) keys.push_back(entry.key);
    if (keys.empty()) throw std::runtime_error("no demo set-up is built in");
    return keys;
}

}  // namespace hitchwright::test
