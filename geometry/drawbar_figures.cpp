#include "geometry/drawbar_figures.h"

namespace hitchwright {

DrawbarFigures find_drawbar_figures(PtoType type) {
    constexpr double inch = 0.0254;
    DrawbarFigures f;
    f.top_low = {13.0 * inch, Grade::B};
    f.top_high = {20.0 * inch, Grade::B};
    f.drop_low = {6.0 * inch, Grade::B};
    f.drop_preferred = {8.0 * inch, Grade::B};
    f.drop_high = {12.0 * inch, Grade::B};
    if (type == PtoType::type1) f.length = {14.0 * inch, Grade::B};
    if (type == PtoType::type2) f.length = {16.0 * inch, Grade::B};
    if (type == PtoType::type3) {
        f.length = {20.0 * inch, Grade::B};
        f.top_high = {22.0 * inch, Grade::B};
        f.drop_low = {8.0 * inch, Grade::B};
    }
    return f;
}

}  // namespace hitchwright
