// The rooms of the window: what stands on the right, and what stands below the picture. One line each in rooms.cpp.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "gui/entry_table.h"
#include "gui/screen.h"

namespace hitchwright {

/// A room with what it shows.
template <class Room>
struct RoomEntry : TableEntry<Room> {
    void (*show)(Screen& screen);
    bool own_panels = false;  ///< it draws its own frames; else it gets one panel that fills the room
    const char* drawn_word = nullptr;  ///< on the button where the implement is drawn; nullptr: the same word
    bool numbered = true;              ///< Ctrl with a digit leads there; else another key does
};

std::span<const RoomEntry<SideRoom>> side_rooms();
std::span<const RoomEntry<LowerRoom>> lower_rooms();

std::optional<SideRoom> find_side_room(std::string_view name);
std::optional<LowerRoom> find_lower_room(std::string_view name);

/// The room shown: the one chosen, or the first where that one is not there for this set-up.
const RoomEntry<SideRoom>& shown_side_room(const AppState& app);
const RoomEntry<LowerRoom>& shown_lower_room(const AppState& app);

/// The rows of buttons.
void show_side_room_buttons(Screen& screen);
void show_lower_room_buttons(Screen& screen);

}  // namespace hitchwright
