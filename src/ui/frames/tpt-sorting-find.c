/* Finds what the page shows. */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-frame-filter-words.h"
#include "tpt-job-batches.h"
#include "tpt-job-frames.h"
#include "tpt-job-names.h"
#include "tpt-sorting-private.h"
#include "tpt-words.h"

#define DEBOUNCE_MS 80
#define LOOK_ON 50 /* frames after a place that is gone, for one that is still there */

/* Why a result is not to be looked at: another is wanted, or there is none. */
static gboolean
is_wanted (GAsyncResult *result, GCancellable *run, const GError *error)
{
  return g_task_get_cancellable (G_TASK (result)) == run && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static guint
count_items (TptSortingPage *self)
{
  return g_list_model_get_n_items (G_LIST_MODEL (self->list));
}

/* --- what is found -------------------------------------------------------------- */

/* (transfer full): "298 triggers, 120 undecided" */
static char *
word_count (TptSortingPage *self)
{
  g_autofree char *triggers = tpt_words_number ((double) self->triggers);
  g_autofree char *undecided = tpt_words_number ((double) self->undecided);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s trigger, %2$s undecided", "%1$s triggers, %2$s undecided",
                                       (gulong) self->triggers),
                          triggers, undecided);
}

/* The clock of one card can be put right; where there are several stations, each picture names its own. */
static void
show_card (TptSortingPage *self, const TptFrameQuery *query)
{
  gboolean one_station = query->stations != NULL && g_strv_length (query->stations) == 1;

  gtk_widget_set_visible (self->clock, query->batch != NULL);
  if (query->batch != NULL)
    gtk_actionable_set_action_target (GTK_ACTIONABLE (self->clock), "s", query->batch);
  tpt_frame_grid_set_station_shown (self->grid, query->batch == NULL && !one_station);
}

/* (transfer full): while an order goes by scores, that some triggers have none. */
static char *
describe (TptSortingPage *self, const TptFrameQuery *query)
{
  TptZone *zone = self->project != NULL ? tpt_project_get_zone (self->project) : NULL;
  g_autofree char *sentence = tpt_frame_filter_describe (self->filter, zone);
  const TptBatchState *state = tpt_batch_list_get_state (self->batches);
  gint64 missing = state != NULL ? state->triggers - state->scored : 0;
  gboolean all = !tpt_frame_filter_is_of_decisions (query) && query->stations == NULL;
  g_autofree char *number = tpt_words_number ((double) missing);
  g_autofree char *note = NULL;

  if (query->order == TPT_FRAMES_BY_TIME || missing <= 0)
    return g_steal_pointer (&sentence);
  note = all ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s has no score yet.", "%s have no score yet.", (gulong) missing),
                                number)
             : g_strdup (_("Some may have no score yet."));
  /* Translators: two sentences. */
  return g_strdup_printf (_("%1$s %2$s"), sentence, note);
}

static void
show_sentence (TptSortingPage *self)
{
  const TptFrameQuery *query = tpt_frame_filter_get_query (self->filter);
  g_autofree char *sentence = describe (self, query);

  show_card (self, query);
  gtk_label_set_label (self->sentence, sentence);
  gtk_widget_set_sensitive (self->clear, tpt_frame_filter_is_narrow (query) || query->every_frame);
}

static void
show_middle (TptSortingPage *self)
{
  gboolean narrow = tpt_frame_filter_is_narrow (tpt_frame_filter_get_query (self->filter));
  const char *name = count_items (self) > 0 ? "grid" : narrow ? "none" : "empty";
  g_autofree char *count = word_count (self);

  gtk_label_set_label (self->count, count);
  gtk_stack_set_visible_child_name (self->middle, name);
}

static gboolean
is_same (TptSortingPage *self, GArray *refs)
{
  if (refs->len != count_items (self))
    return FALSE;
  for (guint i = 0; i < refs->len; i++)
    {
      TptFrameRef old = tpt_frame_list_get_ref (self->list, i);
      const TptFrameRef *new = &g_array_index (refs, TptFrameRef, i);

      if (old.frame_id != new->frame_id || old.trigger_id != new->trigger_id)
        return FALSE;
    }
  return TRUE;
}

static guint
find_frame (GArray *refs, gint64 frame_id)
{
  for (guint i = 0; i < refs->len; i++)
    if (g_array_index (refs, TptFrameRef, i).frame_id == frame_id)
      return i;
  return G_MAXUINT;
}

/* Where @position of the old list is in the new one: the same frame, or one of the next that is still
 * there; at worst the same number. */
static guint
find_place (TptSortingPage *self, GArray *refs, guint position)
{
  for (guint i = position; position != G_MAXUINT && i < count_items (self) && i - position < LOOK_ON; i++)
    {
      guint found = find_frame (refs, tpt_frame_list_get_ref (self->list, i).frame_id);

      if (found != G_MAXUINT)
        return found;
    }
  return refs->len > 0 ? MIN (position, refs->len - 1) : G_MAXUINT;
}

/* (transfer full): the frames that are chosen and still there. */
static GtkBitset *
find_chosen (TptSortingPage *self, GArray *refs)
{
  const GtkBitset *chosen = tpt_frame_selection_get_chosen (tpt_frame_grid_get_selection (self->grid));
  g_autoptr (GHashTable) ids = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  GtkBitset *places = gtk_bitset_new_empty ();
  GtkBitsetIter iter;
  guint position;

  if (gtk_bitset_iter_init_first (&iter, chosen, &position))
    do
      {
        gint64 id = tpt_frame_list_get_ref (self->list, position).frame_id;

        g_hash_table_add (ids, g_memdup2 (&id, sizeof id));
      }
    while (gtk_bitset_iter_next (&iter, &position));
  if (g_hash_table_size (ids) > 0)
    for (guint i = 0; i < refs->len; i++)
      if (g_hash_table_contains (ids, &g_array_index (refs, TptFrameRef, i).frame_id))
        gtk_bitset_add (places, i);
  return places;
}

/* The same frames are only read again; others come into the place of those before. */
static void
take_refs (TptSortingPage *self, GArray *refs)
{
  gboolean first = self->from_top || g_str_equal (gtk_stack_get_visible_child_name (self->middle), "waiting");
  gboolean focused = tpt_frame_grid_has_focus (self->grid);
  g_autoptr (GtkBitset) chosen = NULL;
  guint place;

  self->from_top = FALSE;
  if (is_same (self, refs))
    {
      g_array_unref (refs);
      tpt_frame_list_refresh (self->list);
      return;
    }
  place = find_place (self, refs, self->place != G_MAXUINT ? self->place : tpt_frame_grid_get_position (self->grid));
  chosen = find_chosen (self, refs);
  tpt_frame_list_take_refs (self->list, refs);
  tpt_frame_selection_choose (tpt_frame_grid_get_selection (self->grid), chosen);
  if (place != G_MAXUINT)
    tpt_frame_grid_go (self->grid, first ? 0 : place, focused);
}

/* The batch that was asked for went with the intake it came from: all of them are left. */
static gboolean
forget_batch (TptSortingPage *self, const GError *error)
{
  if (tpt_frame_filter_get_query (self->filter)->batch == NULL || !g_error_matches (error, TPT_ERROR, TPT_ERROR_DATA))
    return FALSE;
  self->from_top = TRUE;
  tpt_batch_list_set_chosen (self->batches, NULL);
  tpt_frame_filter_set_batch (self->filter, NULL);
  tpt_sorting_find_now (self);
  return TRUE;
}

static void
found_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSortingPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  TptJobFrames *job = TPT_JOB_FRAMES (tpt_project_get_job (result));

  if (!is_wanted (result, self->finding, error))
    return;
  g_clear_object (&self->finding);
  tpt_sorting_update_spinner (self);
  if (!good)
    {
      if (!forget_batch (self, error))
        tpt_sorting_complain (self, error);
      return;
    }
  tpt_sorting_calm (self);
  self->triggers = tpt_job_frames_get_triggers (job);
  self->undecided = tpt_job_frames_get_undecided (job);
  take_refs (self, tpt_job_frames_steal_refs (job));
  self->place = G_MAXUINT;
  show_middle (self);
  tpt_sorting_show_chosen (self);
}

static void
find (TptSortingPage *self)
{
  g_autoptr (TptJobFrames) job = tpt_job_frames_new (tpt_frame_filter_get_query (self->filter));

  tpt_sorting_drop_run (&self->finding);
  self->finding = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->finding, found_cb, g_object_ref (self));
}

/* --- the batches ---------------------------------------------------------------------- */

/* Each station once, in the order of the batches. */
static void
show_stations (TptSortingPage *self, GPtrArray *batches)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) codes = g_ptr_array_new ();
  g_autoptr (GPtrArray) titles = g_ptr_array_new ();

  for (guint i = 0; i < batches->len; i++)
    {
      const TptBatchState *state = batches->pdata[i];

      if (state->station == NULL || !g_hash_table_add (seen, state->station))
        continue;
      g_ptr_array_add (codes, state->station);
      g_ptr_array_add (titles, state->station_title);
    }
  g_ptr_array_add (codes, NULL);
  g_ptr_array_add (titles, NULL);
  tpt_frame_filter_set_stations (self->filter, (const char *const *) codes->pdata, (const char *const *) titles->pdata);
}

static void
counted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSortingPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  GPtrArray *batches;

  if (!is_wanted (result, self->counting, error))
    return;
  g_clear_object (&self->counting);
  tpt_sorting_update_spinner (self);
  if (!good)
    {
      tpt_sorting_complain (self, error);
      return;
    }
  batches = tpt_job_batches_get_batches (TPT_JOB_BATCHES (tpt_project_get_job (result)));
  show_stations (self, batches);
  tpt_batch_list_set_batches (self->batches, batches, tpt_project_get_zone (self->project),
                              tpt_project_get_now (self->project, NULL));
  show_sentence (self);
  tpt_sorting_show_score (self);
}

static void
count (TptSortingPage *self)
{
  g_autoptr (TptJobBatches) job = tpt_job_batches_new ();

  tpt_sorting_drop_run (&self->counting);
  self->counting = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->counting, counted_cb, g_object_ref (self));
}

/* --- the species ------------------------------------------------------------------------- */

static void
listed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSortingPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autoptr (GPtrArray) titles = g_ptr_array_new ();
  GPtrArray *all;

  if (!is_wanted (result, self->listing, error))
    return;
  g_clear_object (&self->listing);
  all = good ? tpt_job_names_get_names (TPT_JOB_NAMES (tpt_project_get_job (result))) : NULL;
  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      const TptName *name = all->pdata[i];

      g_ptr_array_add (names, name->species);
      g_ptr_array_add (titles, name->common != NULL ? name->common : name->species);
    }
  g_ptr_array_add (names, NULL);
  g_ptr_array_add (titles, NULL);
  if (good)
    tpt_frame_filter_set_species (self->filter, (const char *const *) names->pdata, (const char *const *) titles->pdata);
  else
    tpt_sorting_complain (self, error);
}

void
tpt_sorting_read_species (TptSortingPage *self)
{
  g_autoptr (TptJobNames) job = tpt_job_names_new (NULL, -1, NULL);

  tpt_sorting_drop_run (&self->listing);
  self->listing = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->listing, listed_cb, g_object_ref (self));
}

/* --- when -------------------------------------------------------------------------------- */

void
tpt_sorting_find_now (TptSortingPage *self)
{
  g_clear_handle_id (&self->debounce_source, g_source_remove);
  if (self->project == NULL)
    return;
  self->stale = FALSE;
  show_sentence (self);
  count (self);
  find (self);
  tpt_sorting_update_spinner (self);
}

static gboolean
find_cb (gpointer data)
{
  TptSortingPage *self = data;

  self->debounce_source = 0;
  tpt_sorting_find_now (self);
  return G_SOURCE_REMOVE;
}

void
tpt_sorting_queue_find (TptSortingPage *self)
{
  g_clear_handle_id (&self->debounce_source, g_source_remove);
  if (self->project != NULL)
    self->debounce_source = g_timeout_add (DEBOUNCE_MS, find_cb, self);
}
