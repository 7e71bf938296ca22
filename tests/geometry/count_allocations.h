// How often this executable has asked for memory: operator new is counted for all of it, which changes nothing else.
#pragma once

#include <cstddef>

namespace hitchwright::test {

/// Calls of operator new so far, of all threads.
std::size_t count_allocations();

}  // namespace hitchwright::test
