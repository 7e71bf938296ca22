// What every printed page of a set-up begins and ends with: verdict, sentence, machines, findings, caption; cautions.
#pragma once

#include "report/side_view.h"

namespace hitchwright {

/// A page with header and cautions drawn; `area` becomes the room left between them.
PagePicture start_page(const SideViewScene& scene, const PageSetup& setup, const TextMeasure& measure, PageRect& area);

}  // namespace hitchwright
