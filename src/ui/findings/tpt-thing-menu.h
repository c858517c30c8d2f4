/* A menu for a thing that was pointed at or reached by key: what it is, ways to filter
 * by it, and the way to the pictures behind it.
 *
 * The buttons activate actions of the group "findings", which an ancestor of the widget
 * the menu belongs to must have:
 * - findings.only-station (s: code), findings.toggle-station (s),
 * - findings.only-species (s: name), findings.compare-species (s),
 * - findings.period ((xx): instants in milliseconds), findings.hours ((dd): hours);
 * and win.show-pictures (a{sv}), see tpt_frame_query_to_variant().
 * A button shows only where the thing has what it is about and the filter has it not
 * already. With one station chosen findings.toggle-station of it means all of them again.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-filter.h"
#include "tpt-frame-query.h"
#include "tpt-project.h"
#include "tpt-thing.h"

G_BEGIN_DECLS

#define TPT_TYPE_THING_MENU (tpt_thing_menu_get_type ())
G_DECLARE_FINAL_TYPE (TptThingMenu, tpt_thing_menu, TPT, THING_MENU, GtkPopover)

/**
 * tpt_thing_menu_popup:
 * @relative_to: the widget it belongs to; has the focus again when it closes
 * @at: where in @relative_to
 * @thing: copied
 * @project: counts the pictures
 * @filter: what the findings are about now; not kept
 *
 * Returns: (transfer none): up, and goes by itself
 */
TptThingMenu *tpt_thing_menu_popup (GtkWidget *relative_to, const GdkRectangle *at, const TptThing *thing,
                                    TptProject *project, const TptFilter *filter);

/* (transfer full): the pictures behind @thing among those of @filter. Hours of the sun
 * are none of a picture's: they are left out. */
TptFrameQuery *tpt_thing_menu_make_query (const TptThing *thing, const TptFilter *filter);

/* Whether the pictures have been counted. */
gboolean tpt_thing_menu_is_settled (TptThingMenu *self);

G_END_DECLS
