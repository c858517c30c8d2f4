/* What has been said of a trigger, by whom, and which word counts.
 *
 * Signals: "taken-back" (observation code): one of the reader's own is to go;
 * "let-count" (opinion, int): another opinion is to count. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_SAID_LIST (tpt_said_list_get_type ())
G_DECLARE_FINAL_TYPE (TptSaidList, tpt_said_list, TPT, SAID_LIST, GtkWidget)

/* @row: (nullable): one of the trigger's. @person: (nullable): who reads this. */
void tpt_said_list_show (TptSaidList *self, const TptFrameRow *row, const char *person, gboolean editable);

/* (transfer full) (nullable): "Ana said lesser mouse-deer; you said red
 * muntjac."; %NULL without a disagreement. */
char *tpt_said_list_word_disagreement (const TptFrameRow *row, const char *person);

/* The number of the first opinion that does not count; 0 without one. */
int tpt_said_list_find_other (const TptFrameRow *row);

G_END_DECLS
