#include "gui/quantity_field.h"

#include "gui/entry_field.h"
#include "gui/field_edits.h"

namespace hitchwright {

void show_quantity_field(Screen& screen, const QuantityField& field, const Reading& now) {
    const SetupEntry* found = find_entry(screen.app, field.key);
    if (found == nullptr) return;
    SetupEntry entry = *found;
    if (!entry.reading.known) {
        entry.reading = now;
        entry.known = now.known;
    }
    show_entry_field(screen, entry, field.label, field.when_unknown);
}

}  // namespace hitchwright
