// Marks a function that the compiler builds once for each width of vector registers; the program takes the widest that
// the processor has when it is loaded.
//
// So one binary is portable and still fast. Off where that does not work: ThreadSanitizer (the choice is made before it
// has started, and crashes with g++ 12), WebAssembly and other processors (nothing to choose from), compilers and
// C libraries without it. Clones round a*b + c once where the processor can: answers differ in the last digits.
#pragma once

#include <cstddef>  // says whether the C library is glibc

#if defined(__x86_64__) && defined(__GLIBC__) && defined(__GNUC__) && !defined(__clang__) && __GNUC__ >= 12 && \
    !defined(__SANITIZE_THREAD__)
#define HITCHWRIGHT_VECTOR_CLONES __attribute__((target_clones("default", "arch=x86-64-v3", "arch=x86-64-v4")))
#else
#define HITCHWRIGHT_VECTOR_CLONES
#endif
