// What a frame has done besides drawing (frame_work.h).
#pragma once

#include <chrono>

namespace hitchwright {

struct FrameWork {
    std::chrono::steady_clock::time_point begun;  ///< the frame
    int revision = 0;                             ///< of the results when it began
    bool more = false;                            ///< there is work left, or words to show that were just found
};

}  // namespace hitchwright
