// A walk over the text statement by statement. The text is known to be valid, so that only the ends of things matter.
#include "presets/source_map.h"

#include <algorithm>

#include "presets/number_text.h"
#include "presets/toml_reader.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(SourceNode);

namespace {

// What a quoted key or text stands for.
std::string read_quoted(std::string_view literal) {
    const ParsedToml parsed = parse_toml("x = " + std::string(literal), {});
    const SourceNode* node = parsed.ok() ? parsed.root.find("x") : nullptr;
    return node == nullptr ? std::string{} : node->typed;
}

bool is_bare(char c) { return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '-'; }

// The member, made if need be. The last item stands for a list of blocks.
SpanNode& open_member(SpanNode& table, const std::string& key, SpanKind kind) {
    SpanNode* found = table.find(key);
    if (found == nullptr) {
        found = &table.members.emplace_back();
        found->key = key;
        found->kind = kind;
    }
    const bool blocks = found->kind == SpanKind::list && !found->members.empty();
    return blocks ? found->members.back() : *found;
}

class Walk {
public:
    explicit Walk(std::string_view text) : text_(text) {
        map_.root.kind = SpanKind::section;
        map_.root.span = {0, text.size()};
    }

    bool run() {
        while (skip_to_statement()) {
            const bool fine = peek() == '[' ? read_header() : read_entry();
            if (!fine) return false;
        }
        return true;
    }

    SourceMap take() { return std::move(map_); }

private:
    using Path = std::vector<std::string>;

    char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
    bool at_end() const { return at_ >= text_.size(); }
    void skip_blanks() {
        while (is_blank(peek())) ++at_;
    }
    void skip_line() { at_ = std::min(text_.find('\n', at_), text_.size() - 1) + 1; }
    void skip_comment() { at_ = std::min(text_.find('\n', at_), text_.size()); }

    // Blank lines and lines of comment; false at the end of the text.
    bool skip_to_statement() {
        while (!at_end()) {
            line_ = at_;
            skip_blanks();
            if (at_end()) return false;
            const bool empty = peek() == '\n' || (peek() == '\r' && peek(1) == '\n');
            if (!empty && peek() != '#') return true;
            if (peek() == '#') map_.comments.push_back(at_);
            skip_line();
        }
        return false;
    }

    // What may stand behind a statement: blanks, a comment, the line's end.
    bool end_statement() {
        skip_blanks();
        if (peek() == '#') {
            skip_line();
            return true;
        }
        if (peek() == '\r') ++at_;
        if (!at_end() && peek() != '\n') return false;
        at_ = std::min(at_ + 1, text_.size());
        return true;
    }

    // Blanks, line ends and comments inside a list.
    void skip_inside() {
        while (is_blank(peek()) || peek() == '\n' || peek() == '\r' || peek() == '#') {
            if (peek() == '#')
                skip_comment();
            else
                ++at_;
        }
    }

    bool read_key(Path& path) {
        while (true) {
            skip_blanks();
            const std::size_t begin = at_;
            if (peek() == '"' || peek() == '\'') {
                if (!skip_quoted()) return false;
                path.push_back(read_quoted(text_.substr(begin, at_ - begin)));
            } else {
                while (is_bare(peek())) ++at_;
                if (at_ == begin) return false;
                path.emplace_back(text_.substr(begin, at_ - begin));
            }
            skip_blanks();
            if (peek() != '.') return true;
            ++at_;
        }
    }

    bool read_header() {
        current().span.end = line_;
        const bool item = peek(1) == '[';
        at_ += item ? 2 : 1;
        Path path;
        if (!read_key(path) || peek() != ']' || (item && peek(1) != ']')) return false;
        at_ += item ? 2 : 1;
        if (!end_statement()) return false;
        SpanNode* table = &map_.root;
        for (std::size_t i = 0; i + 1 < path.size(); ++i) table = &open_member(*table, path[i], SpanKind::implicit);
        if (item) {
            SpanNode* list = table->find(path.back());
            if (list == nullptr) {
                list = &table->members.emplace_back();
                list->key = path.back();
                list->kind = SpanKind::list;
            }
            table = &list->members.emplace_back();
        } else {
            table = &open_member(*table, path.back(), SpanKind::section);
        }
        table->kind = SpanKind::section;
        table->span = {at_, text_.size()};
        table->last_end = at_;
        section_ = std::move(path);
        return true;
    }

    SpanNode& current() {
        SpanNode* node = &map_.root;
        for (const std::string& key : section_) node = &open_member(*node, key, SpanKind::implicit);
        return *node;
    }

    // key = value, into the table.
    bool read_pair(SpanNode& table) {
        Path path;
        if (!read_key(path) || peek() != '=') return false;
        ++at_;
        skip_blanks();
        SpanNode* node = &table;
        for (std::size_t i = 0; i + 1 < path.size(); ++i) node = &open_member(*node, path[i], SpanKind::dotted);
        SpanNode value;
        value.key = path.back();
        if (!read_value(value)) return false;
        node->members.push_back(std::move(value));
        return true;
    }

    bool read_entry() {
        const std::string indent(text_.substr(line_, at_ - line_));
        SpanNode& section = current();
        if (!read_pair(section) || !end_statement()) return false;
        section.indent = indent;
        section.last_end = at_;
        return true;
    }

    bool read_literal(SpanNode& node) {
        switch (peek()) {
            case '"':
            case '\'':
                return skip_quoted();
            case '[':
                return read_list(node);
            case '{':
                return read_braces(node);
            default:
                skip_bare();
        }
        return true;
    }

    bool read_value(SpanNode& node) {
        node.kind = SpanKind::value;
        node.span.begin = at_;
        const bool fine = read_literal(node);
        node.span.end = at_;
        return fine && node.span.end > node.span.begin;
    }

    void skip_bare() {
        const std::size_t begin = at_;
        at_ = std::min(text_.find_first_of(",]}#\r\n", at_), text_.size());
        while (at_ > begin && is_blank(text_[at_ - 1])) --at_;
    }

    bool skip_quoted() {
        const char quote = peek();
        const bool three = peek(1) == quote && peek(2) == quote;
        at_ += three ? 3 : 1;
        while (!at_end()) {
            if (quote == '"' && peek() == '\\') {
                at_ += 2;
            } else if (!three && peek() == quote) {
                ++at_;
                return true;
            } else if (peek() == quote && peek(1) == quote && peek(2) == quote) {
                // Up to two quotes may stand before the three that end it.
                at_ += 3;
                for (int more = 0; more < 2 && peek() == quote; ++more) ++at_;
                return true;
            } else {
                ++at_;
            }
        }
        return false;
    }

    bool read_list(SpanNode& node) {
        node.kind = SpanKind::list;
        ++at_;
        while (true) {
            skip_inside();
            if (peek() == ']') break;
            SpanNode item;
            if (!read_value(item)) return false;
            node.members.push_back(std::move(item));
            skip_inside();
            if (peek() == ',')
                ++at_;
            else if (peek() != ']')
                return false;
        }
        ++at_;
        return true;
    }

    bool read_braces(SpanNode& node) {
        node.kind = SpanKind::inline_table;
        node.last_end = ++at_;
        while (true) {
            skip_blanks();
            if (peek() == '}') break;
            if (!read_pair(node)) return false;
            node.last_end = at_;
            skip_blanks();
            if (peek() == ',')
                ++at_;
            else if (peek() != '}')
                return false;
        }
        ++at_;
        return true;
    }

    std::string_view text_;
    std::size_t at_ = 0, line_ = 0;
    SourceMap map_;
    Path section_;
};

}  // namespace

const SpanNode* SpanNode::find(std::string_view name) const {
    const auto found = std::find_if(members.begin(), members.end(), [&](const SpanNode& m) { return m.key == name; });
    return found == members.end() ? nullptr : &*found;
}

SpanNode* SpanNode::find(std::string_view name) {
    const auto found = std::find_if(members.begin(), members.end(), [&](const SpanNode& m) { return m.key == name; });
    return found == members.end() ? nullptr : &*found;
}

std::optional<SourceMap> map_source(std::string_view text) {
    Walk walk(text);
    if (!walk.run()) return std::nullopt;
    return walk.take();
}

const SpanNode* find_item(const SpanNode& list, std::string_view name, std::string_view text) {
    for (std::size_t i = 0; i < list.members.size(); ++i) {
        const SpanNode* own = list.members[i].find("name");
        if (own != nullptr && own->find("value") != nullptr) own = own->find("value");
        std::string called;
        if (own != nullptr) called = read_quoted(text.substr(own->span.begin, own->span.end - own->span.begin));
        if ((called.empty() ? std::to_string(i + 1) : called) == name) return &list.members[i];
    }
    return nullptr;
}

}  // namespace hitchwright
