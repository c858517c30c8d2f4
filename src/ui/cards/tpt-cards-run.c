#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-cards-private.h"
#include "tpt-window.h"

/* Characters of a card's name on a button. */
#define LONGEST_NAME 24

typedef gboolean (*CardTest) (TptCard *card);

/* (transfer full) (element-type TptCard) */
static GPtrArray *
list_cards (TptCardsDialog *self, CardTest test)
{
  GPtrArray *found = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->cards)); i++)
    {
      g_autoptr (TptCard) card = g_list_model_get_item (G_LIST_MODEL (self->cards), i);

      if (test (card))
        g_ptr_array_add (found, g_steal_pointer (&card));
    }
  return found;
}

static gboolean
is_taking (TptCard *card)
{
  return tpt_card_get_state (card) == TPT_CARD_TAKING;
}

static gboolean
is_queued (TptCard *card)
{
  return tpt_card_get_state (card) == TPT_CARD_QUEUED;
}

static gboolean
is_in_progress (TptCard *card)
{
  return is_taking (card) || is_queued (card);
}

static gboolean
is_begun (TptCard *card)
{
  return tpt_card_get_state (card) == TPT_CARD_STOPPED;
}

/* Neither taken in nor without anything that could be. */
static gboolean
is_open (TptCard *card)
{
  return tpt_card_get_state (card) != TPT_CARD_TAKEN
         && (tpt_card_get_survey (card) == NULL || tpt_job_survey_get_frames (tpt_card_get_survey (card)) > 0);
}

gboolean
tpt_cards_is_running (TptCardsDialog *self)
{
  g_autoptr (GPtrArray) running = list_cards (self, is_in_progress);

  return running->len > 0;
}

static void
start (TptCardsDialog *self, GPtrArray *cards)
{
  if (!tpt_cards_is_running (self))
    g_ptr_array_set_size (self->in_run, 0);
  for (guint i = 0; i < cards->len; i++)
    {
      tpt_card_agree (cards->pdata[i]);
      g_ptr_array_add (self->in_run, g_object_ref (cards->pdata[i]));
      tpt_card_queue (cards->pdata[i]);
    }
}

/* Cards somebody is asked about, and the window. */
typedef struct {
  TptCardsDialog *dialog; /* (owned) */
  GPtrArray *cards;       /* (owned) */
} Question;

static void
free_question (Question *question, GClosure *closure)
{
  g_object_unref (question->dialog);
  g_ptr_array_unref (question->cards);
  g_free (question);
}

static void
answered_cb (AdwMessageDialog *dialog, const char *response, Question *question)
{
  /* Meanwhile a card may have been left out or pulled. */
  for (guint i = question->cards->len; i > 0; i--)
    if (!tpt_card_can_take (question->cards->pdata[i - 1])
        || !g_list_store_find (question->dialog->cards, question->cards->pdata[i - 1], NULL))
      g_ptr_array_remove_index (question->cards, i - 1);
  if (g_str_equal (response, "take"))
    start (question->dialog, question->cards);
}

/* (transfer full): what contradicts the records, by card. */
static char *
say_objections (GPtrArray *cards)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < cards->len; i++)
    {
      const TptSurveyMatch *match = tpt_card_get_match (cards->pdata[i]);

      for (guint k = 0; tpt_card_is_disputed (cards->pdata[i]) && k < match->objections->len; k++)
        g_string_append_printf (text, "%s%s: %s", text->len > 0 ? "\n" : "", tpt_card_get_title (cards->pdata[i]),
                                (const char *) match->objections->pdata[k]);
    }
  return g_string_free (text, FALSE);
}

static void
ask (TptCardsDialog *self, GPtrArray *cards)
{
  g_autofree char *objections = say_objections (cards);
  GtkWidget *dialog = adw_message_dialog_new (GTK_WINDOW (self), _("Go on against the records?"), objections);
  Question *question = g_new0 (Question, 1);

  question->dialog = g_object_ref (self);
  question->cards = g_ptr_array_ref (cards);
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "back", _("_Look again"), "take", _("_Take in as chosen"), NULL);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "back");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "back");
  g_signal_connect_data (dialog, "response", G_CALLBACK (answered_cb), question, (GClosureNotify) free_question, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
take (TptCardsDialog *self, GPtrArray *cards)
{
  gboolean disputed = FALSE;

  for (guint i = 0; i < cards->len; i++)
    disputed = disputed || tpt_card_is_disputed (cards->pdata[i]);
  if (disputed)
    ask (self, cards);
  else
    start (self, cards);
}

void
tpt_cards_take_all (TptCardsDialog *self)
{
  g_autoptr (GPtrArray) cards = list_cards (self, tpt_card_can_take);

  take (self, cards);
}

static gboolean
can_take_selected (TptCardsDialog *self)
{
  TptCard *card = tpt_cards_get_selected (self);

  return card != NULL && tpt_card_can_take (card);
}

void
tpt_cards_take_selected (TptCardsDialog *self)
{
  g_autoptr (GPtrArray) cards = g_ptr_array_new_with_free_func (g_object_unref);
  TptCard *card = tpt_cards_get_selected (self);

  if (can_take_selected (self))
    g_ptr_array_add (cards, g_object_ref (card));
  take (self, cards);
}

/* From the last on, so that none of those that wait gets its turn. */
void
tpt_cards_stop (TptCardsDialog *self)
{
  g_autoptr (GPtrArray) cards = list_cards (self, is_in_progress);

  for (guint i = cards->len; i > 0; i--)
    if (is_queued (cards->pdata[i - 1]))
      tpt_card_stop (cards->pdata[i - 1]);
  for (guint i = 0; i < cards->len; i++)
    if (is_taking (cards->pdata[i]))
      tpt_card_stop (cards->pdata[i]);
}

/* (nullable): the batch of the chosen card, where the window can show it. */
static const char *
find_batch (TptCardsDialog *self)
{
  GtkWindow *parent = gtk_window_get_transient_for (GTK_WINDOW (self));
  TptCard *card = tpt_cards_get_selected (self);
  TptJobIntake *intake = card != NULL ? tpt_card_get_intake (card) : NULL;

  if (intake == NULL || !G_IS_ACTION_GROUP (parent) || !g_action_group_get_action_enabled (G_ACTION_GROUP (parent), "show-batch"))
    return NULL;
  if (TPT_IS_WINDOW (parent) && tpt_window_get_project (TPT_WINDOW (parent)) != self->project)
    return NULL;
  return tpt_job_intake_get_batch (intake);
}

void
tpt_cards_sort_selected (TptCardsDialog *self)
{
  const char *batch = find_batch (self);

  if (batch == NULL)
    return;
  g_action_group_activate_action (G_ACTION_GROUP (gtk_window_get_transient_for (GTK_WINDOW (self))), "show-batch",
                                  g_variant_new_string (batch));
  gtk_window_close (GTK_WINDOW (self));
}

static void
start_next (TptCardsDialog *self)
{
  g_autoptr (GPtrArray) taking = list_cards (self, is_taking);
  g_autoptr (GPtrArray) queued = list_cards (self, is_queued);

  if (taking->len == 0 && queued->len > 0)
    tpt_card_take (queued->pdata[0]);
}

/* By bytes; how many are done goes beside. */
void
tpt_cards_update_progress (TptCardsDialog *self)
{
  double all = 0, done = 0;
  guint number = 0;
  g_autofree char *text = NULL;

  for (guint i = 0; i < self->in_run->len; i++)
    {
      TptCard *card = self->in_run->pdata[i];
      TptJobSurvey *survey = tpt_card_get_survey (card);
      double bytes = survey != NULL ? (double) tpt_job_survey_get_bytes (survey) : 0;

      all += bytes;
      done += bytes * tpt_card_get_progress (card);
      number += !is_queued (card);
    }
  text = g_strdup_printf (_("Card %u of %u"), MAX (number, 1), self->in_run->len);
  gtk_progress_bar_set_fraction (self->overall, all > 0 ? CLAMP (done / all, 0, 1) : 0);
  gtk_progress_bar_set_text (self->overall, text);
}

/* Beside other cards a button names the one it means; names come from readers
 * and can be long, or have underlines that are no mnemonics. */
static char *
name_card (TptCard *card)
{
  const char *title = tpt_card_get_title (card);
  gboolean whole = g_utf8_strlen (title, -1) <= LONGEST_NAME;
  g_autofree char *begins = whole ? NULL : g_utf8_substring (title, 0, LONGEST_NAME - 1);
  g_autofree char *shown = whole ? g_strdup (title) : g_strconcat (begins, "…", NULL);
  g_auto (GStrv) parts = g_strsplit (shown, "_", -1);

  return g_strjoinv ("__", parts);
}

static char *
name_one (TptCardsDialog *self, TptCard *card, gboolean begun)
{
  g_autofree char *name = name_card (card);

  if (g_list_model_get_n_items (G_LIST_MODEL (self->cards)) < 2)
    return g_strdup (begun ? _("_Go on") : _("_Take in"));
  /* Translators: a card's name. */
  return g_strdup_printf (begun ? _("_Go on with %s") : _("_Take in %s"), name);
}

/* Sorting shows one batch at a time: that of the card whose page shows. */
static void
name_sort (TptCardsDialog *self)
{
  TptCard *card = tpt_cards_get_selected (self);
  g_autofree char *name = card != NULL ? name_card (card) : NULL;
  /* Translators: a card's name. */
  g_autofree char *named = name != NULL ? g_strdup_printf (_("_Sort the pictures of %s"), name) : NULL;
  gboolean several = g_list_model_get_n_items (G_LIST_MODEL (self->cards)) > 1;

  gtk_button_set_label (self->sort, several && named != NULL ? named : _("_Sort these pictures"));
}

static void
name_take (TptCardsDialog *self, GPtrArray *takeable)
{
  gboolean begun = takeable->len > 0;
  g_autofree char *label = NULL;

  for (guint i = 0; i < takeable->len; i++)
    begun = begun && is_begun (takeable->pdata[i]);
  if (takeable->len > 1)
    label = g_strdup_printf (begun ? ngettext ("_Go on with %u card", "_Go on with all %u cards", takeable->len)
                                   : ngettext ("_Take in %u card", "_Take in all %u cards", takeable->len), takeable->len);
  else
    label = takeable->len == 1 ? name_one (self, takeable->pdata[0], begun) : g_strdup (_("_Take in"));
  gtk_button_set_label (self->take, label);
  gtk_widget_set_sensitive (GTK_WIDGET (self->take), takeable->len > 0);
}

void
tpt_cards_update (TptCardsDialog *self)
{
  g_autoptr (GPtrArray) takeable = NULL, open = NULL;
  gboolean running;

  start_next (self);
  running = tpt_cards_is_running (self);
  takeable = list_cards (self, tpt_card_can_take);
  open = list_cards (self, is_open);
  name_take (self, takeable);
  gtk_widget_set_visible (GTK_WIDGET (self->take), !running && open->len > 0);
  gtk_widget_set_visible (self->take_this, !running && takeable->len > 1 && can_take_selected (self));
  gtk_widget_set_visible (self->cancel, running);
  gtk_widget_set_visible (self->close, !running && open->len == 0);
  name_sort (self);
  gtk_widget_set_visible (GTK_WIDGET (self->sort), !running && find_batch (self) != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->overall), running && self->in_run->len > 1);
  tpt_cards_update_progress (self);
}
