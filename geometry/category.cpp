#include "geometry/category.h"

namespace hitchwright {

CategoryFigures find_category_figures(Category category) {
    switch (category) {
        case Category::cat1:
            return {"1", {0.683, Grade::A}, {0.035, Grade::A}, {0.022, Grade::B}, {0.019, Grade::B},
                    {0.460, Grade::C}, {0.820, Grade::C}};
        case Category::cat2:
            return {"2", {0.825, Grade::A}, {0.045, Grade::A}, {0.028, Grade::B}, {0.0255, Grade::B},
                    {0.610, Grade::B}, {0.950, Grade::C}};
        case Category::cat3:
            return {"3", {0.965, Grade::B}, {0.045, Grade::B}, {0.0366, Grade::B}, {0.03175, Grade::B},
                    {0.685, Grade::B}, {1.065, Grade::C}};
        case Category::cat4:
            return {"4", {1.166, Grade::B}, {0.0575, Grade::B}, {0.0508, Grade::B}, {0.045, Grade::B},
                    {0.685, Grade::C}, {1.200, Grade::C}};
        case Category::cat0: return {"0", {}, {}, {}, {}, {}, {}};
        case Category::none: break;
    }
    return {"none", {}, {}, {}, {}, {}, {}};
}

Figure find_transport_height(Category category, const Reading& typed) {
    return typed.known ? Figure{typed.value, Grade::D} : find_category_figures(category).transport_height;
}

PtoFigures find_pto_figures(PtoType type) {
    switch (type) {
        case PtoType::type1: return {"1", 6, {0.035, Grade::A}, 540};
        case PtoType::type2: return {"2", 21, {0.035, Grade::A}, 1000};
        case PtoType::type3: return {"3", 20, {0.045, Grade::A}, 1000};
        case PtoType::other: return {"other", 0, {}, 0};
        case PtoType::unknown: break;
    }
    return {"unknown", 0, {}, 0};
}

}  // namespace hitchwright
