/* Says what a trigger shows: the likeliest names by number, a search over all
 * of them, and the words for what is no animal.
 *
 * Signals:
 *  "named" (species): a scientific name was chosen
 *  "typed" (type): "blank", "human", "vehicle" or "unknown"
 *  "again", "also", "taken-back": their buttons
 *  "missing" (text): what was searched for is no name here, and is to become one
 *  "left": the search is over, the keyboard belongs to the picture again
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-job-names.h"

G_BEGIN_DECLS

#define TPT_TYPE_NAME_PAD (tpt_name_pad_get_type ())
G_DECLARE_FINAL_TYPE (TptNamePad, tpt_name_pad, TPT, NAME_PAD, GtkWidget)

#define TPT_NAME_PAD_DIGITS 9

/* @names: (nullable) (element-type TptName): as ranked. They stay as they are
 * until other ones are set. */
void tpt_name_pad_set_names (TptNamePad *self, GPtrArray *names);

/* (transfer none) (nullable) (element-type TptName): those set. */
GPtrArray *tpt_name_pad_get_names (TptNamePad *self);

/* (nullable): the scientific name on the button of @digit, 1 to 9. */
const char *tpt_name_pad_get_name (TptNamePad *self, int digit);

/* (nullable): the common name of a species among those set. */
const char *tpt_name_pad_find_common (TptNamePad *self, const char *species);

/* @what: (nullable): what "again" would say. */
void tpt_name_pad_set_again (TptNamePad *self, const char *what);

/* Whether the next name is said besides the ones before. */
void tpt_name_pad_set_also (TptNamePad *self, gboolean also);
/* Whether there is anything of one's own to take back. */
void tpt_name_pad_set_mine (TptNamePad *self, gboolean mine);

/* Puts the keyboard into the search. */
void tpt_name_pad_search (TptNamePad *self);
/* Empties it; "left" follows when the keyboard was there. */
void tpt_name_pad_end_search (TptNamePad *self);

G_END_DECLS
