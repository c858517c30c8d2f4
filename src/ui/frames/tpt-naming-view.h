/* Names what triggers show, one after another: a large picture, the frames of
 * its trigger, the names that are likely there, and what has been said.
 *
 * Property "position" (guint): in the list; notified as naming goes on. Property
 * "person" (string, nullable): in whose name. Signal "back": enough of it, the
 * list again.
 *
 * A decision is applied to the trigger on screen, and the next one shows at
 * once; the write runs behind, in order. One that fails is told in words and
 * its trigger shows again. What is not on screen yet cannot be decided: a key
 * pressed meanwhile does nothing. Decisions that were made are written even
 * when the view goes.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-list.h"
#include "tpt-frame-query.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_NAMING_VIEW (tpt_naming_view_get_type ())
G_DECLARE_FINAL_TYPE (TptNamingView, tpt_naming_view, TPT, NAMING_VIEW, GtkWidget)

TptNamingView *tpt_naming_view_new (void);

/* @project may be %NULL: nothing shows, and nothing is held any more. */
void tpt_naming_view_set_project (TptNamingView *self, TptProject *project);

/* @list: of the project that was set; one frame of each trigger or every frame. */
void tpt_naming_view_show (TptNamingView *self, TptFrameList *list, guint position);
guint tpt_naming_view_get_position (TptNamingView *self);

/* How many triggers of the list nobody has said anything of, for the line that
 * tells how far naming is; -1, as at first, when that is not known. It goes
 * down with each decision. */
void tpt_naming_view_set_undecided (TptNamingView *self, gint64 undecided);

/* @query: (nullable): that found the list; copied. With it, the undecided are
 * counted again when the project is changed from elsewhere. */
void tpt_naming_view_set_query (TptNamingView *self, const TptFrameQuery *query);

/* @name: (nullable) */
void tpt_naming_view_set_person (TptNamingView *self, const char *name);
const char *tpt_naming_view_get_person (TptNamingView *self);

G_END_DECLS
