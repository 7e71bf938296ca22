// Empty: the precompiled headers that test executables share hang on targets with this source.
