// Lengths that fitted add-on parts add to the tractor's own: extender of the lower links, clutch and extender on the stub.
//
// A part that is off adds exactly nothing. Lengths m.
#pragma once

#include "geometry/setup.h"

namespace hitchwright {

/// What the fitted extender adds to each lower link, along it.
inline double find_added_link_length(const Parts& parts) {
    return parts.link_extender.fitted ? parts.link_extender.length.value_or(0.0) : 0.0;
}

/// Lower link, front pin to ball, with what is fitted to it.
inline double find_lower_link_length(const Setup& setup) {
    return setup.tractor.lower_link.length.value + find_added_link_length(setup.parts);
}

/// What fitted parts add to the PTO stub, along its axis; they stand one behind the other.
inline double find_added_stub_length(const Parts& parts) {
    double added = 0.0;
    for (const PtoAddOn* p : {&parts.overrunning_clutch, &parts.spline_extender}) {
        if (p->fitted) added += p->added_length.value_or(0.0);
    }
    return added;
}

}  // namespace hitchwright
