/* Scores for empty triggers, and choosing by them. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-job-frames.h"
#include "tpt-job-score.h"
#include "tpt-sorting-private.h"
#include "tpt-words.h"

static void
say (TptSortingPage *self, const char *text)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.say", "s", text);
}

/* (transfer full) */
static char *
word_missing (const TptBatchState *state)
{
  gint64 missing = state->triggers - state->scored;
  g_autofree char *number = tpt_words_number ((double) missing);

  if (missing <= 0)
    return g_strdup (_("Every trigger has a score for being empty."));
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s trigger has no score for being empty.",
                                       "%s triggers have no score for being empty.", (gulong) missing),
                          number);
}

void
tpt_sorting_show_score (TptSortingPage *self)
{
  const TptBatchState *state = tpt_batch_list_get_state (self->batches);
  gboolean running = self->scoring != NULL;
  gboolean writable = self->project != NULL && !tpt_project_get_read_only (self->project);
  g_autofree char *text = state != NULL && state->triggers > 0 ? word_missing (state) : g_strdup ("");

  if (!running)
    gtk_label_set_label (self->score_text, text);
  gtk_widget_set_visible (GTK_WIDGET (self->score_bar), running);
  gtk_widget_set_visible (self->score_stop, running);
  gtk_widget_set_visible (self->score_start, !running);
  gtk_widget_set_sensitive (self->score_start, writable && state != NULL && state->scored < state->triggers);
  gtk_widget_set_sensitive (self->score_choose, state != NULL && state->scored > 0);
}

static void
progress_cb (TptSortingPage *self)
{
  const TptSortingTally *tally = self->tally;
  double seen = (double) tally->seen + tpt_job_get_progress (self->scorer) * (double) tally->current;
  double all = (double) MAX (tally->planned, 1);
  g_autofree char *number = tpt_words_number (floor (seen));
  g_autofree char *of = tpt_words_number (all);
  g_autofree char *text = g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "%1$s of %2$s trigger looked at", "%1$s of %2$s triggers looked at", (gulong) all), number, of);

  gtk_progress_bar_set_fraction (self->score_bar, MIN (seen / all, 1));
  gtk_label_set_label (self->score_text, text);
}

static void
say_outcome (TptSortingPage *self)
{
  g_autofree char *scored = tpt_words_number ((double) self->tally->scored);
  g_autofree char *all = tpt_words_number ((double) self->tally->seen);
  g_autofree char *text = g_strdup_printf (_("%1$s of %2$s triggers got a score for being empty"), scored, all);

  say (self, text);
}

static void
drop_scorer (TptSortingPage *self)
{
  if (self->scorer != NULL)
    g_signal_handlers_disconnect_by_data (self->scorer, self);
  g_clear_object (&self->scorer);
}

void
tpt_sorting_end_score (TptSortingPage *self)
{
  tpt_sorting_drop_run (&self->scoring);
  drop_scorer (self);
  if (self->tally != NULL)
    g_hash_table_unref (self->tally->done);
  g_clear_pointer (&self->tally, g_free);
}

static gboolean score_next (TptSortingPage *self);

static void
add_to_tally (TptSortingTally *tally, TptJobScore *job)
{
  tally->seen += tpt_job_score_get_triggers (job);
  tally->scored += tpt_job_score_get_scored (job);
}

/* A batch that is gone by now is passed over. */
static void
scored_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSortingPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error) ||
                  g_error_matches (error, TPT_ERROR, TPT_ERROR_DATA);

  if (g_task_get_cancellable (G_TASK (result)) != self->scoring)
    return;
  add_to_tally (self->tally, TPT_JOB_SCORE (self->scorer));
  drop_scorer (self);
  if (good && score_next (self))
    return;
  if (good)
    say_outcome (self);
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    say (self, _("Stopped. The scores that are there stay."));
  else
    tpt_sorting_complain (self, error);
  tpt_sorting_end_score (self);
  tpt_sorting_show_score (self);
  tpt_sorting_queue_find (self);
}

/* The batch that is chosen by now comes next. */
static gboolean
score_next (TptSortingPage *self)
{
  TptSortingTally *tally = self->tally;
  const TptBatchState *state = tpt_batch_list_find_next (self->batches, tally->done);

  if (state == NULL || g_cancellable_is_cancelled (self->scoring) || (!tally->all && g_hash_table_size (tally->done) > 0))
    return FALSE;
  g_hash_table_add (tally->done, g_strdup (state->batch));
  tally->current = state->triggers - state->scored;
  self->scorer = TPT_JOB (tpt_job_score_new (state->batch, FALSE));
  g_signal_connect_swapped (self->scorer, "notify::progress", G_CALLBACK (progress_cb), self);
  progress_cb (self);
  tpt_project_run_async (self->project, self->scorer, self->scoring, scored_cb, g_object_ref (self));
  return TRUE;
}

/* Batch after batch, so that one that is chosen meanwhile need not wait for all of them. */
void
tpt_sorting_start_score (TptSortingPage *self)
{
  const TptBatchState *state = tpt_batch_list_get_state (self->batches);

  if (self->project == NULL || self->scoring != NULL || state == NULL)
    return;
  self->tally = g_new0 (TptSortingTally, 1);
  self->tally->done = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->tally->all = tpt_batch_list_get_chosen (self->batches) == NULL;
  self->tally->planned = state->triggers - state->scored;
  self->scoring = g_cancellable_new ();
  if (!score_next (self))
    tpt_sorting_end_score (self);
  tpt_sorting_show_score (self);
}

void
tpt_sorting_stop_score (TptSortingPage *self)
{
  if (self->scoring != NULL)
    g_cancellable_cancel (self->scoring);
}

/* (transfer full): where the frames of @refs are in the list. */
static GtkBitset *
find_places (TptSortingPage *self, GArray *refs)
{
  g_autoptr (GHashTable) ids = g_hash_table_new (g_int64_hash, g_int64_equal);
  GtkBitset *places = gtk_bitset_new_empty ();
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->list));

  for (guint i = 0; i < refs->len; i++)
    g_hash_table_add (ids, &g_array_index (refs, TptFrameRef, i).frame_id);
  for (guint i = 0; i < n; i++)
    {
      gint64 id = tpt_frame_list_get_ref (self->list, i).frame_id;

      if (g_hash_table_contains (ids, &id))
        gtk_bitset_add (places, i);
    }
  return places;
}

static void
chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSortingPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  g_autoptr (GArray) refs = NULL;
  g_autoptr (GtkBitset) places = NULL;

  if (g_task_get_cancellable (G_TASK (result)) != self->choosing)
    return;
  g_clear_object (&self->choosing);
  tpt_sorting_update_spinner (self);
  if (!good)
    {
      tpt_sorting_complain (self, error);
      return;
    }
  refs = tpt_job_frames_steal_refs (TPT_JOB_FRAMES (tpt_project_get_job (result)));
  places = find_places (self, refs);
  tpt_frame_selection_choose (tpt_frame_grid_get_selection (self->grid), places);
  if (gtk_bitset_is_empty (places))
    say (self, _("No trigger of this list has a score as high as that."));
  else
    tpt_frame_grid_go (self->grid, gtk_bitset_get_minimum (places), TRUE);
}

void
tpt_sorting_choose_empty (TptSortingPage *self)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_copy (tpt_frame_filter_get_query (self->filter));
  g_autoptr (TptJobFrames) job = NULL;

  if (self->project == NULL)
    return;
  query->blank_from = gtk_spin_button_get_value (self->score_from);
  job = tpt_job_frames_new (query);
  tpt_sorting_drop_run (&self->choosing);
  self->choosing = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->choosing, chosen_cb, g_object_ref (self));
  tpt_sorting_update_spinner (self);
}
