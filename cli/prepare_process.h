// What both programs do before anything else.
#pragma once

namespace hitchwright {

/// Sees to it that a fault of the surroundings is an error with a sentence. A reader that goes away (a pipe into "head") and a
/// file that must not grow (ulimit -f) show as failed writes, not as a signal that ends the process. A standard stream that was
/// closed stays unusable, but its number is taken: else the next file to be opened would get it, and sentences for the stream
/// would be written into that file.
void prepare_process();

}  // namespace hitchwright
