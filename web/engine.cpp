// See engine.h. The browser has no disk: the files stand in the file system that emscripten keeps in memory.
#include "web/engine.h"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <sstream>
#include <vector>

#include "cli/run_cli.h"
#include "presets/json_tree.h"
#include "report/json_writer.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

/// Where the files of a request stand while it is answered.
constexpr const char* work_folder = "/request";

using Texts = std::map<std::string, std::string>;

struct Request {
    std::vector<std::string> arguments;
    Texts files, variables;
};

/// A name that stays in the folder.
bool is_plain_name(const std::string& name) { return !name.empty() && name.find('/') == std::string::npos && name != "." && name != ".."; }

/// Members of a table of texts; false: it is something else.
bool read_texts(const SourceNode& request, std::string_view key, Texts& texts) {
    const SourceNode* table = request.find(key);
    if (table == nullptr) return true;
    if (table->kind != SourceKind::table) return false;
    for (const SourceNode& member : table->members) {
        if (member.kind != SourceKind::text) return false;
        texts[member.key] = member.typed;
    }
    return true;
}

/// What is wrong with the request; empty: nothing.
std::string read_request(std::string_view text, Request& request) {
    const ParsedJson parsed = parse_json(text, "request");
    if (!parsed.ok()) return "the request is no JSON: " + parsed.problems.front().message;
    const SourceNode* arguments = parsed.root.find("arguments");
    if (arguments == nullptr || arguments->kind != SourceKind::list) return "the request has no list \"arguments\"";
    for (const SourceNode& word : arguments->members) {
        if (word.kind != SourceKind::text) return "an argument is no text";
        request.arguments.push_back(word.typed);
    }
    if (!read_texts(parsed.root, "files", request.files)) return "\"files\" is no table of texts";
    if (!read_texts(parsed.root, "variables", request.variables)) return "\"variables\" is no table of texts";
    for (const auto& [name, content] : request.files)
        if (!is_plain_name(name)) return "a file's name has a folder in it";
    return {};
}

std::string read_whole(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// The working folder, with these files in it, for as long as this lives.
class WorkFolder {
public:
    explicit WorkFolder(const Texts& given) : given_(given), before_(fs::current_path()) {
        fs::create_directory(work_folder);
        fs::current_path(work_folder);
        for (const auto& [name, content] : given_) std::ofstream(name, std::ios::binary) << content;
    }
    WorkFolder(const WorkFolder&) = delete;
    WorkFolder& operator=(const WorkFolder&) = delete;
    ~WorkFolder() {
        fs::current_path(before_);
        fs::remove_all(work_folder);
    }

    /// What is there that was not given, or is no longer as it was.
    JsonValue list_written() const {
        JsonMembers written;
        for (const fs::directory_entry& entry : fs::directory_iterator(work_folder)) {
            if (!entry.is_regular_file()) continue;
            const std::string name = entry.path().filename().string();
            std::string content = read_whole(entry.path());
            const auto old = given_.find(name);
            if (old == given_.end() || old->second != content) written.emplace_back(name, std::move(content));
        }
        return JsonValue(std::move(written));
    }

private:
    const Texts& given_;
    fs::path before_;
};

std::string format_answer(int code, const std::string& out, const std::string& err, JsonValue files) {
    JsonObject answer;
    answer.add("code", code).add("out", out).add("err", err).add("files", std::move(files));
    return format_json_value(answer.build());
}

}  // namespace

std::string answer_request(std::string_view text) {
    Request request;
    const std::string wrong = read_request(text, request);
    if (!wrong.empty()) return format_answer(exit_code::usage, {}, wrong + ".\n", JsonMembers{});
    const WorkFolder folder(request.files);
    std::istringstream in;
    std::ostringstream out, err;
    const auto variable = [&](const char* name) -> const char* {
        const auto found = request.variables.find(name);
        return found == request.variables.end() ? nullptr : found->second.c_str();
    };
    const int code = run_cli(request.arguments, {in, out, err, false, variable, false, false});
    return format_answer(code, out.str(), err.str(), folder.list_written());
}

}  // namespace hitchwright
