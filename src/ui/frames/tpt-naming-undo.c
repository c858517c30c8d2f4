/* What the naming view does when the project is changed from elsewhere, by an undo
 * perhaps: leads back to the trigger whose decision is gone, offers to repeat
 * nothing that is gone, and has the undecided counted again. */
#include "config.h"

#include "tpt-job-frames.h"
#include "tpt-job-lookup.h"
#include "tpt-naming-private.h"

/* Whether @what is still on record as the reader's word. */
static gboolean
has_word (TptNamingView *self, GPtrArray *rows, const char *what)
{
  const TptFrameRow *row = rows->len > 0 ? rows->pdata[0] : NULL;

  for (guint i = 0; row != NULL && i < row->seen->len; i++)
    {
      const TptSeen *seen = row->seen->pdata[i];

      if (g_strcmp0 (seen->by, self->person) == 0 && tpt_naming_intern_word (seen->type, seen->species) == what)
        return TRUE;
    }
  return FALSE;
}

static void
forget_last (TptNamingView *self)
{
  g_clear_pointer (&self->last, tpt_decision_free);
  tpt_name_pad_set_again (self->pad, NULL);
}

/* --- the trigger decided on last --------------------------------------------------- */

static void
looked_back_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  TptJob *job = tpt_project_get_job (result);
  const TptNamingPast *asked = g_object_get_data (G_OBJECT (job), "past");
  const TptNamingPast *past = tpt_naming_get_past (self);
  GPtrArray *rows;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, NULL) || past == NULL || past->trigger_id != asked->trigger_id ||
      past->what != asked->what)
    return;
  rows = tpt_job_frame_rows_get_rows (TPT_JOB_FRAME_ROWS (job));
  if (has_word (self, rows, asked->what))
    return;
  g_array_set_size (self->history, self->history->len - 1);
  if (rows->len > 0 && !tpt_frame_row_is_decided (rows->pdata[0]))
    tpt_naming_count_undecided (self, 1);
  if (self->last != NULL && tpt_naming_intern_word (self->last->type, self->last->species) == asked->what)
    forget_last (self);
  tpt_naming_return_to (self, asked->trigger_id);
  tpt_naming_show_place (self);
}

static void
look_back (TptNamingView *self)
{
  const TptNamingPast *past = tpt_naming_get_past (self);
  g_autoptr (TptJobFrameRows) job = NULL;

  if (past == NULL || past->what == NULL)
    return;
  job = tpt_job_frame_rows_new_for_trigger (past->trigger_id);
  g_object_set_data_full (G_OBJECT (job), "past", g_memdup2 (past, sizeof *past), g_free);
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, looked_back_cb, g_object_ref (self));
}

/* --- what would be repeated --------------------------------------------------------- */

static void
species_found_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  TptJob *job = tpt_project_get_job (result);
  const char *species = g_object_get_data (G_OBJECT (job), "species");

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, NULL) || self->last == NULL ||
      g_strcmp0 (self->last->species, species) != 0)
    return;
  if (g_list_model_get_n_items (tpt_job_lookup_get_records (TPT_JOB_LOOKUP (job))) == 0)
    forget_last (self);
}

static void
look_for_species (TptNamingView *self)
{
  g_autoptr (TptJobLookup) job = NULL;

  if (self->last == NULL || self->last->species == NULL)
    return;
  job = tpt_job_lookup_new (TPT_TABLE_SPECIES, "scientific_name", self->last->species);
  g_object_set_data_full (G_OBJECT (job), "species", g_strdup (self->last->species), g_free);
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, species_found_cb, g_object_ref (self));
}

/* --- how many are undecided ---------------------------------------------------------- */

static void count_anew (TptNamingView *self);

/* Decisions made while it was counted may be in the number or not. */
static void
counted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  TptJob *job = tpt_project_get_job (result);
  guint said = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (job), "said"));

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, NULL) || self->query == NULL)
    return;
  if (said == self->said_so_far)
    tpt_naming_view_set_undecided (self, tpt_job_frames_get_undecided (TPT_JOB_FRAMES (job)));
  else
    count_anew (self);
}

static void
count_anew (TptNamingView *self)
{
  g_autoptr (TptJobFrames) job = NULL;

  if (self->query == NULL)
    return;
  job = tpt_job_frames_new (self->query);
  g_object_set_data (G_OBJECT (job), "said", GUINT_TO_POINTER (self->said_so_far));
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, counted_cb, g_object_ref (self));
}

void
tpt_naming_changed_outside (TptNamingView *self)
{
  if (!gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  if (tpt_decider_get_pending (self->decider) == 0)
    look_back (self);
  look_for_species (self);
  count_anew (self);
}
