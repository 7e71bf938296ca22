// Making, copying, moving and destroying a type of many members, compiled once, in the source of the type: where the compiler
// writes them into every file that holds one, they are a quarter of its code and of the time it takes to compile.
#pragma once

// NOLINTBEGIN(bugprone-macro-parentheses): the name of a type cannot stand in parentheses
/// First line of the type; its source has the other one. No aggregate: every member needs a first value; no member's move may throw.
#define HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Type) \
    Type();                                       \
    Type(const Type&);                            \
    Type(Type&&) noexcept;                        \
    Type& operator=(const Type&);                 \
    Type& operator=(Type&&) noexcept;             \
    ~Type()

#define HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(Type)       \
    Type::Type() = default;                            \
    Type::Type(const Type&) = default;                 \
    Type::Type(Type&&) noexcept = default;             \
    Type& Type::operator=(const Type&) = default;      \
    Type& Type::operator=(Type&&) noexcept = default;  \
    Type::~Type() = default
// NOLINTEND(bugprone-macro-parentheses)
