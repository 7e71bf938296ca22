// Empty: the precompiled headers that the test executables share hang on this target.
