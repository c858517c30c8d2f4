/* What is decided in the naming view. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-naming-private.h"

#define AMEND_MS 400 /* quick changes of a detail are written as one */
#define MOST_HISTORY 20000

/* --- one's own word ---------------------------------------------------------- */

/* The last thing the reader said of the trigger, as in "and also" it is the last
 * that is meant. */
const TptSeen *
tpt_naming_find_mine (TptNamingView *self, guint *n)
{
  const TptFrameRow *row = tpt_naming_get_row (self);
  const TptSeen *mine = NULL;
  guint found = 0;

  for (guint i = 0; row != NULL && i < row->seen->len; i++)
    {
      const TptSeen *seen = row->seen->pdata[i];

      if (g_strcmp0 (seen->by, self->person) != 0 || g_str_equal (seen->type, "unclassified"))
        continue;
      found++;
      if (mine == NULL || seen->at >= mine->at)
        mine = seen;
    }
  if (n != NULL)
    *n = found;
  return mine;
}

/* --- details -------------------------------------------------------------------- */

/* What is filled in shows on the button too, when the form is shut. */
static void
show_summary (TptNamingView *self)
{
  g_autofree char *summary = tpt_details_form_describe (self->details);

  tpt_key_button_set_text (self->details_button, _("Details"), summary);
}

void
tpt_naming_show_details (TptNamingView *self)
{
  const TptSeen *mine = self->also ? NULL : tpt_naming_find_mine (self, NULL);
  g_autofree char *what = mine != NULL ? tpt_seen_describe (mine) : NULL;
  g_autofree char *text = mine != NULL ? g_strdup_printf (_("Details of: %s"), what) : g_strdup (_("Details of the next decision"));

  gtk_label_set_label (self->details_words, text);
  if (!tpt_details_form_is_touched (self->details))
    tpt_details_form_show (self->details, mine);
  show_summary (self);
}

/* The same thing said again changes it; one of several stays beside the others. */
static void
amend (TptNamingView *self)
{
  guint n;
  const TptSeen *mine = tpt_naming_find_mine (self, &n);
  TptDecision decision = { .certainty = NAN };

  if (mine == NULL || self->also || !tpt_naming_is_editable (self) || !tpt_details_form_is_touched (self->details))
    return;
  tpt_details_form_fill (self->details, &decision);
  decision.type = mine->type;
  decision.species = mine->species;
  decision.by = self->person;
  decision.besides = n > 1;
  tpt_details_form_set_written (self->details);
  tpt_decider_decide (self->decider, self->ref.trigger_id, &decision);
  tpt_trigger_reader_renew (self->reader, self->ref);
}

static gboolean
amend_cb (gpointer data)
{
  TptNamingView *self = data;

  self->amend_source = 0;
  amend (self);
  return G_SOURCE_REMOVE;
}

/* Details that waited for a name which never came. */
static void
tell_not_kept (TptNamingView *self)
{
  g_autofree char *details = tpt_details_form_describe (self->details);
  g_autofree char *text = details != NULL ? g_strdup_printf (_("Not kept, as no name was given: %s"), details) : NULL;

  if (text != NULL && self->ref.trigger_id != 0 && tpt_details_form_is_touched (self->details))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.say", "s", text);
}

void
tpt_naming_flush_details (TptNamingView *self)
{
  tpt_details_form_finish (self->details);
  g_clear_handle_id (&self->amend_source, g_source_remove);
  if (self->decider != NULL)
    {
      amend (self);
      tell_not_kept (self);
    }
  tpt_details_form_set_written (self->details);
}

void
tpt_naming_details_changed (TptNamingView *self)
{
  g_clear_handle_id (&self->amend_source, g_source_remove);
  self->amend_source = g_timeout_add (AMEND_MS, amend_cb, self);
  self->details_by_hand = TRUE;
  show_summary (self);
}

/* --- decisions ---------------------------------------------------------------------- */

void
tpt_naming_set_also (TptNamingView *self, gboolean also)
{
  self->also = also;
  tpt_name_pad_set_also (self->pad, also);
  tpt_naming_show_details (self);
}

void
tpt_naming_count_undecided (TptNamingView *self, int by)
{
  if (self->undecided >= 0)
    self->undecided = MAX (0, self->undecided + by);
}

const char *
tpt_naming_intern_word (const char *type, const char *species)
{
  g_autofree char *word = g_strdup_printf ("%s %s", type, species != NULL ? species : "");

  return g_intern_string (word);
}

const TptNamingPast *
tpt_naming_get_past (TptNamingView *self)
{
  return self->history->len > 0 ? &g_array_index (self->history, TptNamingPast, self->history->len - 1) : NULL;
}

/* Its rows may not have come again yet. */
static gboolean
is_last_decided (TptNamingView *self)
{
  const TptNamingPast *past = tpt_naming_get_past (self);

  return past != NULL && past->trigger_id == self->ref.trigger_id && past->what != NULL;
}

/* The trigger is still one that was decided on, but what was said of it is gone. */
static void
forget_words (TptNamingView *self)
{
  for (guint i = 0; i < self->history->len; i++)
    {
      TptNamingPast *past = &g_array_index (self->history, TptNamingPast, i);

      if (past->trigger_id == self->ref.trigger_id)
        past->what = NULL;
    }
}

static void
remember (TptNamingView *self, const TptDecision *decision)
{
  const TptNamingPast past = { self->ref.trigger_id, tpt_naming_intern_word (decision->type, decision->species) };
  TptSeen seen = { 0 };

  g_clear_pointer (&self->last, tpt_decision_free);
  g_free (self->last_words);
  self->last = tpt_decision_copy (decision);
  seen.type = (char *) decision->type;
  seen.species = (char *) decision->species;
  seen.common = (char *) tpt_name_pad_find_common (self->pad, decision->species);
  seen.count = decision->count;
  seen.sex = (char *) decision->sex;
  self->last_words = tpt_seen_describe (&seen);
  tpt_name_pad_set_again (self->pad, self->last_words);
  if (self->history->len >= MOST_HISTORY)
    g_array_remove_range (self->history, 0, MOST_HISTORY / 2);
  g_array_append_val (self->history, past);
  self->said_so_far++;
}

/* Writes it behind, and shows the next trigger; with "and also" the same one. */
static void
say (TptNamingView *self, const TptDecision *decision)
{
  const TptFrameRow *row = tpt_naming_get_row (self);

  if (!tpt_naming_is_editable (self))
    return;
  g_clear_handle_id (&self->amend_source, g_source_remove);
  if (!tpt_frame_row_is_decided (row) && !is_last_decided (self))
    tpt_naming_count_undecided (self, -1);
  remember (self, decision);
  tpt_decider_decide (self->decider, self->ref.trigger_id, decision);
  tpt_trigger_reader_renew (self->reader, self->ref);
  tpt_details_form_set_written (self->details);
  if (self->also || !tpt_naming_step (self, 1))
    {
      tpt_naming_free_keys (self);
      self->details_by_hand = FALSE;
      tpt_details_form_show (self->details, NULL);
      show_summary (self);
      tpt_naming_show_place (self);
    }
}

/* What the form shows is said with the name. Correcting a name keeps what was
 * said of the animals beside it, but for what goes with the name alone. */
static void
fill_details (TptNamingView *self, TptDecision *decision, const char *type)
{
  gboolean correcting = !self->also && tpt_naming_find_mine (self, NULL) != NULL;

  tpt_details_form_finish (self->details);
  tpt_details_form_fill (self->details, decision);
  if (correcting && !self->details_by_hand)
    {
      decision->individual = NULL;
      decision->certainty = NAN;
    }
  if (g_str_equal (type, "animal") || g_str_equal (type, "unknown"))
    return;
  decision->sex = decision->life_stage = decision->individual = NULL;
  if (g_str_equal (type, "blank"))
    decision->count = 0;
}

void
tpt_naming_decide (TptNamingView *self, const char *type, const char *species)
{
  TptDecision decision = { .certainty = NAN };

  fill_details (self, &decision, type);
  decision.type = type;
  decision.species = species;
  decision.by = self->person;
  decision.besides = self->also;
  say (self, &decision);
}

void
tpt_naming_repeat (TptNamingView *self)
{
  g_autoptr (TptDecision) decision = NULL;

  if (self->last == NULL)
    return;
  decision = tpt_decision_copy (self->last);
  decision->besides = self->also;
  say (self, decision);
}

void
tpt_naming_take_back_all (TptNamingView *self)
{
  const TptDecision none = { .certainty = NAN, .by = self->person };
  guint n;

  if (tpt_naming_find_mine (self, &n) == NULL || !tpt_naming_is_editable (self))
    return;
  if (tpt_naming_get_row (self)->seen->len == n)
    tpt_naming_count_undecided (self, 1);
  forget_words (self);
  self->said_so_far++;
  tpt_details_form_set_written (self->details);
  tpt_decider_decide (self->decider, self->ref.trigger_id, &none);
  tpt_trigger_reader_renew (self->reader, self->ref);
  tpt_naming_show_place (self);
}
