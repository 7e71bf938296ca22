// Words and folders of the kinds of files.
#include "presets/file_kind.h"

namespace hitchwright {

std::string_view file_kind_word(FileKind kind) {
    switch (kind) {
        case FileKind::tractor: return "tractor";
        case FileKind::implement: return "implement";
        case FileKind::driveline: return "driveline";
        case FileKind::setup: return "setup";
        case FileKind::rules: return "rules";
        case FileKind::specification_list: return "specification_list";
    }
    return "file";
}

std::string_view file_kind_name(FileKind kind) {
    switch (kind) {
        case FileKind::setup: return "set-up";
        case FileKind::rules: return "rule set";
        case FileKind::specification_list: return "specification list";
        default: return file_kind_word(kind);
    }
}

std::optional<FileKind> find_file_kind(std::string_view word) {
    for (const FileKind kind : file_kinds) {
        if (file_kind_word(kind) == word) {
            return kind;
        }
    }
    return std::nullopt;
}

std::vector<std::string_view> file_kind_folders(FileKind kind) {
    switch (kind) {
        case FileKind::tractor: return {"tractors"};
        case FileKind::implement: return {"implements/mounted", "implements/drawn", "implements"};
        case FileKind::driveline: return {"drivelines"};
        case FileKind::setup: return {"setups"};
        case FileKind::rules: return {"rules"};
        case FileKind::specification_list: return {"specifications"};
    }
    return {};
}

}  // namespace hitchwright
