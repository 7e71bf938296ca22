#include "geometry/trace_study.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace hitchwright {
namespace {

std::set<std::string> split_words(const std::string& text) {
    std::set<std::string> words;
    std::string word;
    for (const char c : text + " ") {
        const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
        if (letter)
            word += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
        else if (!word.empty())
            words.insert(std::move(word)), word.clear();
    }
    return words;
}

/// Readings worth asking for, besides those in doubt themselves.
std::vector<Seen> list_looks(const Setup& s) {
    const bool drawn = s.implement.attachment == Attachment::drawn;
    std::vector<Seen> looks;
    const auto add = [&](SeenKind kind, SeenPlace place) {
        Seen look;
        look.kind = kind;
        look.place = place;
        look.error = usual_seen_error(kind);
        looks.push_back(look);
    };
    if (drawn) {
        for (const SeenKind kind :
             {SeenKind::tail_height, SeenKind::front_height, SeenKind::pitch, SeenKind::shaft_distance, SeenKind::gap,
              SeenKind::overlap, SeenKind::drawbar_length})
            add(kind, SeenPlace::working);
        return looks;
    }
    for (const SeenPlace place : {SeenPlace::lowest, SeenPlace::working, SeenPlace::raised}) {
        for (const SeenKind kind : {SeenKind::tail_height, SeenKind::front_height, SeenKind::pitch,
                                    SeenKind::shaft_distance, SeenKind::gap, SeenKind::overlap})
            add(kind, place);
    }
    add(SeenKind::ball_height, SeenPlace::lowest);
    add(SeenKind::ball_height, SeenPlace::raised);
    return looks;
}

bool is_same_look(const Seen& a, const Seen& b) {
    const auto place = [](const Seen& s) {
        return s.place == SeenPlace::usual && s.kind <= SeenKind::pitch ? SeenPlace::working : s.place;
    };
    return a.kind == b.kind && place(a) == place(b) && a.key == b.key &&
           (a.place != SeenPlace::at_height || a.height == b.height);
}

class NextReading {
public:
    NextReading(TraceBench& bench, const std::vector<Cause>& causes, const TraceStudy& study)
        : bench_(bench), causes_(causes), study_(study) {}

    std::optional<SeparatingReading> find() {
        if (study_.causes.size() < 2) return std::nullopt;
        std::vector<Seen> looks = list_looks(bench_.believed().setup);
        for (const std::size_t i : {std::size_t{0}, std::size_t{1}}) add_reread(study_.causes[i], looks);
        std::erase_if(looks, [&](const Seen& look) {
            return std::any_of(study_.rows.seen.begin(), study_.rows.seen.end(),
                               [&](const Seen& s) { return is_same_look(s, look); });
        });
        std::vector<Seen> all = study_.rows.seen;
        all.insert(all.end(), looks.begin(), looks.end());
        const auto one = see(study_.causes[0], looks), other = see(study_.causes[1], looks);
        const TraceRows joint = make_trace_rows(bench_, causes_, all);
        std::optional<SeparatingReading> best;
        std::size_t row = study_.rows.rows.size();
        for (std::size_t i = 0; i < looks.size(); ++i) {
            if (row >= joint.seen.size() || !(joint.seen[row] == looks[i])) continue;  // cannot be reckoned
            const std::size_t at = row++;
            if (!one[i] || !other[i]) continue;
            SeparatingReading r{
                looks[i], 0, 1, *one[i], *other[i], looks[i].error, 2.0 * std::sqrt(find_left_open(joint, at)), 0.0};
            r.apart = std::fabs(*one[i] - *other[i]) / r.scatter;
            if (!best || r.apart > best->apart) best = r;
        }
        return best;
    }

private:
    static void add_reread(const CauseFit& fit, std::vector<Seen>& looks) {
        const Cause& c = fit.cause;
        if (!is_by_amount(c.kind) || c.kind == CauseKind::rear_tyre || c.kind == CauseKind::front_tyre) return;
        Seen look;
        look.kind = SeenKind::reading;
        look.key = c.key;
        look.error = c.tolerance;
        looks.push_back(look);
    }

    std::vector<std::optional<double>> see(const CauseFit& fit, const std::vector<Seen>& looks) {
        return bench_.see(fit.cause, fit.best.change, looks);
    }

    /// Variance of a row once the study's own rows are known.
    double find_left_open(const TraceRows& joint, std::size_t at) const {
        const auto i = static_cast<Eigen::Index>(at), n = static_cast<Eigen::Index>(study_.rows.rows.size());
        const double own = joint.covariance(i, i);
        if (n == 0) return own;
        const Eigen::VectorXd with = joint.covariance.block(0, i, n, 1);
        const double known = with.dot(Eigen::LDLT<Eigen::MatrixXd>(joint.covariance.topLeftCorner(n, n)).solve(with));
        const double taken = 0.5 * joint.seen[at].error;
        return std::max(own - known, taken * taken);
    }

    TraceBench& bench_;
    const std::vector<Cause>& causes_;
    const TraceStudy& study_;
};

/// Words that say something, their endings off: "the PTO is slipping" and "PTO slips" share both.
std::set<std::string> find_content_words(const std::string& text) {
    static const std::set<std::string> empty_words = {"a", "an", "and", "as", "at", "but", "by", "does", "in", "is", "it", "its", "more", "no", "not",
                                                      "of", "on", "or", "so", "that", "the", "there", "to", "under", "up", "when", "with"};
    std::set<std::string> words;
    for (std::string word : split_words(text)) {
        if (empty_words.contains(word)) continue;
        for (const std::string_view ending : {"ing", "ed", "s"}) {
            if (word.size() > ending.size() + 2 && word.ends_with(ending)) {
                word.resize(word.size() - ending.size());
                if (ending != "s" && word.size() > 3 && word[word.size() - 1] == word[word.size() - 2]) word.pop_back();
                break;
            }
        }
        words.insert(word);
    }
    return words;
}

void rank(std::vector<CauseFit>& causes) {
    std::stable_sort(causes.begin(), causes.end(), [](const CauseFit& a, const CauseFit& b) {
        return a.best.log_plausibility > b.best.log_plausibility;
    });
    double sum = 0.0;
    for (CauseFit& c : causes) {
        c.share = std::exp(c.best.log_plausibility - causes.front().best.log_plausibility);
        sum += c.share;
    }
    for (CauseFit& c : causes) c.share /= sum;
}

}  // namespace

bool matches_words(const ComplaintLine& line, const Seen& seen) {
    const std::set<std::string> said = find_content_words(seen.words);
    for (std::size_t at = 0; at <= line.complaint.size();) {
        const std::size_t end = std::min(line.complaint.find(';', at), line.complaint.size());
        const std::set<std::string> wanted = find_content_words(line.complaint.substr(at, end - at));
        const auto shared = static_cast<std::size_t>(std::count_if(wanted.begin(), wanted.end(), [&](const std::string& w) { return said.contains(w); }));
        if (!wanted.empty() && (shared == wanted.size() || (shared >= 2 && 2 * shared >= wanted.size()))) return true;
        at = end + 1;
    }
    return false;
}

TraceStudy trace(const Setup& setup, const std::vector<Seen>& seen, const std::vector<ComplaintLine>& lines) {
    TraceStudy study;
    const TraceMachine believed = make_believed_machine(setup);
    TraceBench bench(believed);
    const bool loads = std::any_of(seen.begin(), seen.end(), [](const Seen& s) { return s.kind == SeenKind::will_not_lift; });
    const CauseList list = list_causes(believed, loads);
    study.not_tried = list.not_tried;
    for (const Seen& s : seen) {
        bool matched = false;
        for (const ComplaintLine& line : lines) {
            if (!matches_words(line, s)) continue;
            study.lines.push_back(line);
            matched = true;
        }
        const std::string obstacle = find_seen_obstacle(believed, s);
        if (!obstacle.empty() && !(matched && s.kind == SeenKind::stated)) study.not_used.push_back({s, obstacle});
    }
    study.rows = make_trace_rows(bench, list.causes, seen);
    if (study.rows.rows.empty()) return study;
    study.believed_misfit = find_believed_misfit(study.rows);
    study.usual_misfit = find_usual_misfit(study.rows.rows.size());
    study.within_errors = study.believed_misfit <= study.usual_misfit;
    for (std::size_t i = 0; i < list.causes.size(); ++i) {
        CauseFit fit = fit_cause(bench, study.rows, list.causes[i], i);
        (fit.produces ? study.causes : study.cannot).push_back(std::move(fit));
    }
    if (!study.causes.empty()) rank(study.causes);
    std::stable_sort(study.cannot.begin(), study.cannot.end(), [](const CauseFit& a, const CauseFit& b) {
        if (a.matters != b.matters) return a.matters;
        return a.best.misfit < b.best.misfit;
    });
    study.next = NextReading(bench, list.causes, study).find();
    study.rows.causes = nullptr;  // the list ends here
    return study;
}

}  // namespace hitchwright
