#include "cli/seen_phrases.h"

#include <algorithm>
#include <cctype>

namespace hitchwright {
namespace {

// clang-format off
constexpr Phrase phrases[] = {
    {"the", Tag::small}, {"a", Tag::small}, {"an", Tag::small}, {"my", Tag::small}, {"when", Tag::small},
    {"in", Tag::small}, {"with", Tag::small}, {"of", Tag::small}, {"on", Tag::small}, {"it", Tag::small},
    {"by", Tag::small}, {"by hand", Tag::small}, {"left", Tag::small}, {"position", Tag::small},
    {"hitch", Tag::small}, {"lift", Tag::small}, {"fully", Tag::small}, {"and", Tag::small},
    {"than", Tag::small}, {"set", Tag::small}, {"there", Tag::small}, {"to", Tag::small}, {"its", Tag::small},
    {"is", Tag::is}, {"are", Tag::is}, {"reads", Tag::is}, {"measures", Tag::is}, {"=", Tag::is},
    {"at", Tag::at}, {"tail", Tag::tail}, {"tail wheel", Tag::tail}, {"tailwheel", Tag::tail},
    {"rear", Tag::tail}, {"back", Tag::tail}, {"rear end", Tag::tail}, {"back end", Tag::tail},
    {"rear edge", Tag::tail}, {"roller", Tag::tail}, {"front", Tag::front}, {"front edge", Tag::front},
    {"nose", Tag::front}, {"front of the deck", Tag::front}, {"deck front", Tag::front},
    {"front lip", Tag::front}, {"pitch", Tag::pitch}, {"frame", Tag::pitch}, {"implement", Tag::pitch},
    {"ball", Tag::ball}, {"balls", Tag::ball}, {"ball height", Tag::ball}, {"ball ends", Tag::ball},
    {"lower pins", Tag::ball}, {"lower links", Tag::ball}, {"lift arms", Tag::ball}, {"shaft", Tag::shaft},
    {"driveline", Tag::shaft}, {"pto shaft", Tag::shaft}, {"drive shaft", Tag::shaft},
    {"driveshaft", Tag::shaft}, {"pto", Tag::shaft}, {"joint", Tag::shaft}, {"joints", Tag::shaft},
    {"distance", Tag::distance}, {"shaft distance", Tag::distance}, {"joint distance", Tag::distance},
    {"gap", Tag::gap}, {"shaft gap", Tag::gap}, {"overlap", Tag::overlap}, {"tube overlap", Tag::overlap},
    {"drawbar", Tag::drawbar}, {"drawbar length", Tag::drawbar}, {"deck", Tag::deck}, {"deck edge", Tag::deck},
    {"deck lip", Tag::deck}, {"link", Tag::link}, {"upper link", Tag::link}, {"top link", Tag::link},
    {"toplink", Tag::link}, {"tyre", Tag::tyre}, {"tire", Tag::tyre}, {"tyres", Tag::tyre},
    {"tires", Tag::tyre}, {"rear tyre", Tag::tyre}, {"rear tire", Tag::tyre}, {"wheel", Tag::tyre},
    {"tongue", Tag::tongue}, {"pole", Tag::tongue}, {"guard", Tag::guard}, {"shield", Tag::guard},
    {"shaft guard", Tag::guard}, {"ground", Tag::ground}, {"floor", Tag::ground}, {"knock", Tag::knocks},
    {"knocks", Tag::knocks}, {"bottoms", Tag::knocks}, {"bottoms out", Tag::knocks},
    {"bottom out", Tag::knocks}, {"hits bottom", Tag::knocks}, {"bangs", Tag::knocks}, {"binds", Tag::knocks},
    {"comes apart", Tag::apart}, {"came apart", Tag::apart}, {"come apart", Tag::apart}, {"parts", Tag::apart},
    {"separates", Tag::apart}, {"falls apart", Tag::apart}, {"pulls apart", Tag::apart},
    {"pulls out", Tag::apart}, {"chatter", Tag::chatters}, {"chatters", Tag::chatters},
    {"vibration", Tag::chatters}, {"vibrates", Tag::chatters}, {"shakes", Tag::chatters},
    {"rattles", Tag::chatters}, {"growls", Tag::chatters}, {"pulses", Tag::chatters}, {"drag", Tag::drags},
    {"drags", Tag::drags}, {"scrapes", Tag::drags}, {"will not lift", Tag::no_lift},
    {"does not lift", Tag::no_lift}, {"won't lift", Tag::no_lift}, {"wont lift", Tag::no_lift},
    {"cannot lift", Tag::no_lift}, {"can't lift", Tag::no_lift}, {"doesn't lift", Tag::no_lift},
    {"touch", Tag::touches}, {"touches", Tag::touches}, {"rub", Tag::touches}, {"rubs", Tag::touches},
    {"rubs on", Tag::touches}, {"hits", Tag::touches}, {"meets", Tag::touches}, {"fouls", Tag::touches},
    {"will not reach", Tag::no_reach}, {"does not reach", Tag::no_reach}, {"won't reach", Tag::no_reach},
    {"wont reach", Tag::no_reach}, {"cannot reach", Tag::no_reach}, {"can't reach", Tag::no_reach},
    {"doesn't reach", Tag::no_reach}, {"out of reach", Tag::no_reach}, {"too short", Tag::too_short},
    {"too long", Tag::too_long}, {"high", Tag::more}, {"higher", Tag::more}, {"up", Tag::more},
    {"too high", Tag::more}, {"more", Tag::more}, {"long", Tag::more}, {"longer", Tag::more},
    {"too much", Tag::more}, {"low", Tag::less}, {"lower", Tag::less}, {"down", Tag::less},
    {"too low", Tag::less}, {"less", Tag::less}, {"short", Tag::less}, {"shorter", Tag::less},
    {"too little", Tag::less}, {"nose down", Tag::tail_up}, {"front down", Tag::tail_up},
    {"tail up", Tag::tail_up}, {"rear up", Tag::tail_up}, {"nose up", Tag::tail_down},
    {"front up", Tag::tail_down}, {"tail down", Tag::tail_down}, {"rear down", Tag::tail_down},
    {"working", Tag::working}, {"working height", Tag::working}, {"work", Tag::working},
    {"lowest", Tag::lowest}, {"lowered", Tag::lowest}, {"bottom", Tag::lowest}, {"right down", Tag::lowest},
    {"all the way down", Tag::lowest}, {"raised", Tag::raised}, {"top", Tag::raised}, {"highest", Tag::raised},
    {"right up", Tag::raised}, {"all the way up", Tag::raised}, {"lifted", Tag::raised},
    {"full lift", Tag::raised}, {"top stop", Tag::raised}, {"bottom stop", Tag::lowest}, {"stops", Tag::stops},
    {"both stops", Tag::stops}, {"dip", Tag::dips}, {"dips", Tag::dips}, {"humps", Tag::dips},
    {"ditch", Tag::dips}, {"ditches", Tag::dips}, {"hollows", Tag::dips}, {"turn", Tag::turns},
    {"turns", Tag::turns}, {"turning", Tag::turns}, {"corners", Tag::turns}, {"straight", Tag::straight},
    {"level", Tag::straight}, {"level ground", Tag::straight}};
// clang-format on

bool is_digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace

std::span<const Phrase> seen_phrases() { return phrases; }

bool begins_number(const std::string& w) {
    if (w.empty()) return false;
    if (is_digit(w[0]) || static_cast<unsigned char>(w[0]) >= 0x80) return true;
    return w.size() > 1 && (w[0] == '-' || w[0] == '+' || w[0] == '.') && (is_digit(w[1]) || w[1] == '.');
}
bool is_unit(const std::string& w) {
    constexpr std::string_view units[] = {"in",   "inch", "inches", "mm",     "cm",      "m",  "ft",
                                          "feet", "foot", "deg",    "degree", "degrees", "\"", "'"};
    return std::find(std::begin(units), std::end(units), w) != std::end(units);
}

std::vector<SeenWord> split_seen(const std::string& text) {
    std::vector<SeenWord> words;
    std::string typed;
    const auto end_word = [&] {
        while (!typed.empty() &&
               (typed.back() == '.' || typed.back() == ',' || typed.back() == ';' || typed.back() == '!'))
            typed.pop_back();
        if (typed.empty()) return;
        std::string lower = typed;
        std::transform(lower.begin(), lower.end(), lower.begin(),
                       [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        words.push_back({std::move(lower), typed});
        typed.clear();
    };
    for (const char c : text) {
        if (c == ' ' || c == '\t' || c == '\n' || c == '\r')
            end_word();
        else if (c == '=')
            end_word(), words.push_back({"=", "="});
        else
            typed += c;
    }
    end_word();
    return words;
}

}  // namespace hitchwright
