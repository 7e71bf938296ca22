// An answer in blocks: sentences, headings, labelled items, tables, findings, cautions. A terminal prints them as text, a
// window lays them out; both say the same words.
//
// A block knows how the terminal indents it. Where the terminal's lay-out does not follow from the block by rule (columns
// cut to the page, say), `terminal` holds the text as printed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/finding_text.h"
#include "report/text_layout.h"

namespace hitchwright {

enum class BlockKind {
    machines,  ///< what the answer is about; a window shows that elsewhere
    gap,       ///< an empty line
    answer,    ///< the answer in a sentence
    heading,
    words,    ///< a sentence or more
    item,     ///< words behind a label
    table,    ///< rows of cells, the first row heads the columns
    finding,  ///< with its steps and cautions
    caution
};

/// Where a block is shown. Words about options of the command line are for a terminal alone.
enum class BlockPlace { everywhere, terminal, window };

/// One block.
struct AnswerBlock {
    BlockKind kind = BlockKind::gap;
    std::string label;  ///< item: what stands before the words, spaces kept
    std::string text;
    std::size_t first = 0, hang = 0;  ///< columns of the first and of further lines on a terminal
    std::vector<std::vector<std::string>> rows;
    std::optional<Severity> severity;  ///< item and finding: how grave
    FindingText finding;
    std::string key;       ///< what the block is about, for a window that can act on it; may be empty
    std::string terminal;  ///< as printed, where that does not follow from the above
    BlockPlace place = BlockPlace::everywhere;
};

/// Blocks, put together in their order.
class AnswerBuilder {
public:
    explicit AnswerBuilder(const TextStyle& style) : style_(style) {}

    const TextStyle& style() const { return style_; }
    void gap() { blocks_.emplace_back(); }
    void machines(const Setup& setup);
    void answer(std::string text);
    void heading(std::string text, std::size_t first = 0, BlockPlace place = BlockPlace::everywhere);
    void words(std::string text, std::size_t first, std::size_t hang, BlockPlace place = BlockPlace::everywhere);
    /// The block may be given a severity or a key.
    AnswerBlock& item(std::string label, std::string text, std::size_t first, std::size_t hang);
    void table(std::vector<std::vector<std::string>> rows, std::string terminal = {});
    void finding(const Finding& finding, const FindingContext& context);
    /// An empty line, the heading and each caution.
    void cautions(const std::vector<Caution>& list);

    std::vector<AnswerBlock> take() { return std::move(blocks_); }

private:
    AnswerBlock& add(BlockKind kind, std::string text, std::size_t first = 0, std::size_t hang = 0);
    TextStyle style_;
    std::vector<AnswerBlock> blocks_;
};

/// The blocks as a terminal prints them, lines of at most style.width columns.
std::string format_blocks(const std::vector<AnswerBlock>& blocks, const TextStyle& style);

}  // namespace hitchwright
