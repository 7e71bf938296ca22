// The whole page with a mounted set-up from behind or from above, as the side view's page has it (side_view.h).
#pragma once

#include "geometry/analysis.h"
#include "report/side_view.h"
#include "report/space_pose.h"

namespace hitchwright {

/// Which of the two.
enum class MountedView { rear, plan };

/// The place of the hitch that a page shows when nobody says another: the working height, else the lowest; centred.
HitchView find_usual_place(const Analysis& analysis);

/// `at`: from behind with height and sway, from above with the height alone.
PagePicture compose_mounted_view(const SideViewScene& scene, const Setup& setup, const Analysis& analysis, MountedView view, const HitchView& at,
                                 const PageSetup& page, const TextMeasure& measure);

}  // namespace hitchwright
