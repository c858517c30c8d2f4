/* How many, of which sex and age, doing what, and how certain: for the next
 * decision, or of one that was made.
 *
 * Signal "changed": somebody changed a detail, not the program; of what is typed,
 * once it is finished with Enter or by going elsewhere. Escape drops what is
 * half typed. Signal "left": the keyboard belongs to the picture again, after Enter
 * or Escape in one of its entries, an arrow key in the count or one of its buttons. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-item.h"
#include "tpt-job-decide.h"

G_BEGIN_DECLS

#define TPT_TYPE_DETAILS_FORM (tpt_details_form_get_type ())
G_DECLARE_FINAL_TYPE (TptDetailsForm, tpt_details_form, TPT, DETAILS_FORM, GtkWidget)

/* @seen: (nullable): whose details these are; %NULL empties the form. Emits nothing. */
void tpt_details_form_show (TptDetailsForm *self, const TptSeen *seen);

/* What is half typed is taken as typed; "changed" follows if that changed anything. */
void tpt_details_form_finish (TptDetailsForm *self);

/* Into @decision; its texts are the form's until it changes. What is not filled
 * in is unknown there. */
void tpt_details_form_fill (TptDetailsForm *self, TptDecision *decision);

/* Whether somebody changed a detail since it was shown or taken as written. */
gboolean tpt_details_form_is_touched (TptDetailsForm *self);
void tpt_details_form_set_written (TptDetailsForm *self);

/* Puts the keyboard into the form, but into none of its entries: letters and digits
 * keep their meanings. */
void tpt_details_form_enter (TptDetailsForm *self);

/* As if typed: they emit "changed". */
void tpt_details_form_set_count (TptDetailsForm *self, int count);
/* What @letter underlined in the form stands for, with Shift or without as the form
 * says; %FALSE when it is nothing. */
gboolean tpt_details_form_press (TptDetailsForm *self, gunichar letter, gboolean shift);

/* (transfer full) (nullable): "2, female, sure"; %NULL when nothing is filled in. */
char *tpt_details_form_describe (TptDetailsForm *self);

G_END_DECLS
