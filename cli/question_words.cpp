#include "cli/question_words.h"

#include <algorithm>

#include <fmt/format.h>

#include "cli/outcome.h"
#include "presets/units.h"
#include "report/card_words.h"
#include "report/text_layout.h"

namespace hitchwright {

std::string list_of(const std::string& key) { return key.substr(0, std::min(key.find('['), key.size())); }
std::string item_of(const std::string& key) {
    const std::size_t close = key.find(']');
    return close == std::string::npos ? std::string{} : key.substr(0, close + 1);
}

bool is_item_name(const CardLine& q) { return q.form == CardForm::name && !item_of(q.key).empty(); }

bool is_for_ditch(const CardLine& line) {
    return line.station == Station::front_axle || line.key.starts_with("choices.ditch");
}

std::string item_word(const std::string& key) {
    if (key.find("drawbar_pin[") != std::string::npos) return "position";
    if (key.find("_pin[") != std::string::npos) return "hole";
    if (key.find("tongue_bar[") != std::string::npos) return "bar";
    if (key.find("_reading[") != std::string::npos) return "reading";
    return key.find("contact[") != std::string::npos ? "wheel or skid" : "point";
}

std::string ask_for_item(const std::string& key) {
    if (key.starts_with("tractor.ball_reading["))
        return "front pin out of reach? A name or number for the next position of the ball (Enter: no more)";
    if (key.starts_with("direct_reading["))
        return "a name or number for the next distance, stub to input shaft (Enter: no more)";
    if (key.find("drawbar_pin[") != std::string::npos)
        return "name or number of the next position of the drawbar's pin, rearmost first (Enter: no more)";
    if (key.find("tongue_bar[") != std::string::npos)
        return "name of the next straight bar that a tyre could meet (Enter: no more)";
    return "name of the next " + item_word(key) + ", as it is called on the machine (Enter: no more)";
}

std::string say_allowed(const CardLine& q) {
    if (!q.words.empty()) return "allowed: " + join_words(q.words);
    switch (q.form) {
        case CardForm::whole:
            return fmt::format("allowed: a whole number from {} to {}", q.least, q.most);
        case CardForm::whole_list:
            return fmt::format("allowed: whole numbers from {} to {}, such as 540, 1000", q.least, q.most);
        case CardForm::quantity:
            break;
        default:
            return "allowed: a short name or number, such as 1 or top";
    }
    if (q.spec.dimension == Dimension::length) {
        return "allowed: 14.5, 14 1/2, 14-1/2in, 3'2 1/2\", 368mm; with its error 14 1/2 +- 1/8";
    }
    return "allowed: " + std::string(dimension_example(q.spec.dimension));
}

}  // namespace hitchwright
