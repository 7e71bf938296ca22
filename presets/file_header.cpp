// File headers.
#include "presets/file_header.h"

#include <fmt/format.h>

#include "presets/field_values.h"
#include "presets/nearest.h"
#include "presets/units.h"

namespace hitchwright {
namespace {

std::vector<std::string> kind_words() {
    std::vector<std::string> words;
    for (const FileKind kind : file_kinds) {
        words.emplace_back(file_kind_word(kind));
    }
    return words;
}

bool read_kind(const SourceNode& root, FileKind expected, ReadContext& context) {
    const std::string wanted = fmt::format("kind = \"{}\"", file_kind_word(expected));
    const SourceNode* node = root.find("kind");
    if (node == nullptr) {
        add_problem(context, root, "kind", "the file does not say what it describes", {}, wanted);
        return false;
    }
    const auto index = read_word(*node, "kind", kind_words(), context);
    if (index && file_kinds[*index] != expected) {
        add_problem(context, *node, "kind", fmt::format("a file of kind {} is wanted here", file_kind_word(expected)),
                    typed_text(*node), wanted);
    }
    return index && file_kinds[*index] == expected;
}

bool read_version(const SourceNode& root, ReadContext& context) {
    const SourceNode* node = root.find("version");
    const std::string wanted = fmt::format("version = {}", file_version);
    if (node == nullptr) {
        add_problem(context, root, "version", "the file does not say which version of the format it follows", {}, wanted);
        return true;
    }
    const bool known = node->kind == SourceKind::whole && node->whole == file_version;
    if (!known) {
        add_problem(context, *node, "version", "this program does not know that version of the format", typed_text(*node), wanted);
    }
    return known;
}

void read_unit(const SourceNode& root, SourceFile& file, ReadContext& context) {
    const std::vector<std::string> words = {"in", "mm", "cm", "m"};
    if (const SourceNode* node = root.find("unit")) {
        if (const auto index = read_word(*node, "unit", words, context)) {
            file.unit = words[*index];
        }
    }
}

void read_origin(const SourceNode& root, SourceFile& file, ReadContext& context) {
    std::vector<std::string> words;
    for (const auto& origin : origins) {
        words.emplace_back(origin.word);
    }
    if (const SourceNode* node = root.find("origin")) {
        if (const auto index = read_word(*node, "origin", words, context)) {
            file.origin = origins[*index].value;
        }
    }
}

}  // namespace

std::vector<std::string> header_keys() { return {"kind", "version", "unit", "origin"}; }

FileHeader read_header(const SourceNode& root, FileKind expected, const std::string& file, Origin origin,
                       std::vector<Problem>& problems) {
    FileHeader header;
    header.file.name = file;
    header.file.origin = origin;
    FieldNotes notes;
    const SourceFile place = header.file;
    ReadContext context{place, problems, notes};
    const bool kind = read_kind(root, expected, context);
    const bool version = read_version(root, context);
    header.readable = kind && version;
    if (header.readable) {
        read_unit(root, header.file, context);
        read_origin(root, header.file, context);
    }
    return header;
}

}  // namespace hitchwright
