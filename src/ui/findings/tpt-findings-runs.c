/* What is computed for the panes, each by a job of its own that gives way when another choice
 * is made: a result is shown only if it is of what is chosen. */
#include "config.h"

#include "tpt-findings-page-private.h"

#include "tpt-error.h"
#include "tpt-job-tracks.h"

static gboolean
is_beside (TptFindingsPage *self, TptBeside beside)
{
  return tpt_findings_choice_get_beside (self->choice) == beside;
}

static gboolean
has_part (TptFindingsPage *self, TptFindingsPart part)
{
  return (tpt_findings_choice_get_parts (self->choice) & part) != 0;
}

gboolean
tpt_findings_has_side (TptFindingsPage *self, TptSideKind kind)
{
  for (guint i = 0; i < (self->wide ? TPT_N_SIDES : 1); i++)
    if (gtk_drop_down_get_selected (self->sides[i].kind) == kind)
      return TRUE;
  return FALSE;
}

gboolean
tpt_findings_by_sun (TptFindingsPage *self)
{
  return gtk_drop_down_get_selected (self->clock) == 1;
}

/* --- which are wanted -------------------------------------------------------- */

static gboolean
wants_always (TptFindingsPage *self)
{
  return TRUE;
}

static gboolean
wants_other (TptFindingsPage *self)
{
  return !is_beside (self, TPT_BESIDE_NOTHING);
}

/* Without a choice of stations the map is that of the count. */
static gboolean
wants_map (TptFindingsPage *self)
{
  return has_part (self, TPT_PART_STATIONS);
}

static gboolean
wants_other_map (TptFindingsPage *self)
{
  return wants_map (self) && wants_other (self);
}

/* So is the strip without a period and without a second species. */
static gboolean
wants_strip (TptFindingsPage *self)
{
  return has_part (self, TPT_PART_PERIOD) || is_beside (self, TPT_BESIDE_SPECIES);
}

static gboolean
wants_rates (TptFindingsPage *self)
{
  return wants_other (self) || tpt_findings_has_side (self, TPT_SIDE_DETAILS);
}

static gboolean
wants_matrix (TptFindingsPage *self)
{
  return tpt_findings_has_side (self, TPT_SIDE_MATRIX);
}

static gboolean
wants_richness (TptFindingsPage *self)
{
  return tpt_findings_has_side (self, TPT_SIDE_RICHNESS);
}

static gboolean
wants_details (TptFindingsPage *self)
{
  return tpt_findings_has_side (self, TPT_SIDE_DETAILS);
}

static gboolean
wants_occupancy (TptFindingsPage *self)
{
  return wants_details (self) && has_part (self, TPT_PART_SPECIES);
}

/* --- the jobs ------------------------------------------------------------------- */

static TptJob *
make_count (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, TPT_PART_NONE);

  return TPT_JOB (tpt_job_findings_new (filter));
}

/* For rates and places: the strip has a run of its own. */
static TptJob *
count_only (const TptFilter *filter)
{
  TptJobFindings *job = tpt_job_findings_new (filter);

  tpt_job_findings_leave_strip (job);
  return TPT_JOB (job);
}

static TptJob *
make_other (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_other_filter (self->choice, TPT_PART_NONE);

  return count_only (filter);
}

static TptJob *
make_map (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, TPT_PART_STATIONS);

  return count_only (filter);
}

static TptJob *
make_other_map (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_other_filter (self->choice, TPT_PART_STATIONS);

  return count_only (filter);
}

/* Two periods are all that the strip and the months show; one is a stretch of all the time. */
static TptFindingsPart
get_without_period (TptFindingsPage *self)
{
  return is_beside (self, TPT_BESIDE_PERIOD) ? TPT_PART_NONE : TPT_PART_PERIOD;
}

static TptJob *
make_strip (TptFindingsPage *self)
{
  TptFindingsPart without = get_without_period (self);
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, without);
  g_autoptr (TptFilter) other = tpt_findings_choice_make_other_filter (self->choice, without);
  TptJobFindings *job = tpt_job_findings_new (filter);

  if (other != NULL)
    tpt_job_findings_compare (job, other);
  return TPT_JOB (job);
}

static TptJob *
make_hours (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, TPT_PART_HOURS);
  g_autoptr (TptFilter) other = tpt_findings_choice_make_other_filter (self->choice, TPT_PART_HOURS);
  TptJobActivity *job = tpt_job_activity_new (filter, tpt_findings_by_sun (self));

  if (other != NULL)
    tpt_job_activity_compare (job, other);
  return TPT_JOB (job);
}

static TptJob *
make_months (TptFindingsPage *self)
{
  TptFindingsPart without = get_without_period (self);
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, without);
  g_autoptr (TptFilter) other = tpt_findings_choice_make_other_filter (self->choice, without);
  TptJobMonths *job = tpt_job_months_new (filter);

  if (other != NULL)
    tpt_job_months_compare (job, other);
  return TPT_JOB (job);
}

static TptJob *
make_rates (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, TPT_PART_NONE);
  g_autoptr (TptFilter) other = tpt_findings_choice_make_other_filter (self->choice, TPT_PART_NONE);
  TptJobMonths *job = tpt_job_months_new (filter);

  if (other != NULL)
    tpt_job_months_compare (job, other);
  return TPT_JOB (job);
}

/* What is chosen stands on top: a pane shows a few of many species. */
static TptJob *
make_matrix (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter =
    tpt_findings_choice_make_filter (self->choice, TPT_PART_STATIONS | TPT_PART_SPECIES);
  TptJobMatrix *job = tpt_job_matrix_new (filter, (TptMatrixMeasure) gtk_drop_down_get_selected (self->measure));
  const char *chosen[] = { tpt_findings_choice_get_species (self->choice),
                           tpt_findings_choice_get_other_species (self->choice), NULL };

  if (chosen[0] != NULL)
    tpt_job_matrix_put_first (job, chosen);
  return TPT_JOB (job);
}

static TptJob *
make_richness (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, TPT_PART_SPECIES);

  return TPT_JOB (tpt_job_richness_new (filter));
}

static TptJob *
make_occupancy (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, TPT_PART_NONE);

  return TPT_JOB (tpt_job_occupancy_new (filter, tpt_details_view_get_occasion_days (self->sides[0].details)));
}

static TptJob *
make_moon (TptFindingsPage *self)
{
  g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (self->choice, TPT_PART_NONE);

  return TPT_JOB (tpt_job_moon_new (filter));
}

/* @ignores: parts whose choice has no bearing on it; of the strip and the months it depends. */
static const struct {
  TptFindingsPart ignores;
  gboolean (*is_wanted) (TptFindingsPage *self);
  TptJob *(*make) (TptFindingsPage *self);
  void (*show) (TptFindingsPage *self, TptJob *job);
} runs[TPT_N_RUNS] = {
  [TPT_RUN_COUNT] = { TPT_PART_OTHER, wants_always, make_count, tpt_findings_show_count },
  [TPT_RUN_OTHER] = { TPT_PART_NONE, wants_other, make_other, tpt_findings_show_other },
  [TPT_RUN_MAP] = { TPT_PART_STATIONS | TPT_PART_OTHER, wants_map, make_map, tpt_findings_show_map },
  [TPT_RUN_OTHER_MAP] = { TPT_PART_STATIONS, wants_other_map, make_other_map, tpt_findings_show_other_map },
  [TPT_RUN_STRIP] = { TPT_PART_NONE, wants_strip, make_strip, tpt_findings_show_strip },
  [TPT_RUN_HOURS] = { TPT_PART_HOURS, wants_always, make_hours, tpt_findings_show_hours },
  [TPT_RUN_MONTHS] = { TPT_PART_NONE, wants_always, make_months, tpt_findings_show_months },
  [TPT_RUN_RATES] = { TPT_PART_NONE, wants_rates, make_rates, tpt_findings_show_rates },
  [TPT_RUN_MATRIX] = { TPT_PART_STATIONS, wants_matrix, make_matrix,
                       tpt_findings_show_matrix },
  [TPT_RUN_RICHNESS] = { TPT_PART_SPECIES | TPT_PART_OTHER, wants_richness, make_richness, tpt_findings_show_richness },
  [TPT_RUN_OCCUPANCY] = { TPT_PART_OTHER, wants_occupancy, make_occupancy, tpt_findings_show_occupancy },
  [TPT_RUN_MOON] = { TPT_PART_OTHER, wants_details, make_moon, tpt_findings_show_moon },
};

/* --- running ------------------------------------------------------------------------ */

static void
drop_run (GCancellable **run)
{
  if (*run != NULL)
    g_cancellable_cancel (*run);
  g_clear_object (run);
}

/* The run that this is the result of; the number of runs when it is not wanted any more. */
static guint
find_run (TptFindingsPage *self, GAsyncResult *result)
{
  GCancellable *cancellable = g_task_get_cancellable (G_TASK (result));

  for (guint i = 0; i < TPT_N_RUNS; i++)
    if (self->runs[i].cancellable == cancellable)
      return i;
  return TPT_N_RUNS;
}

static void
update_spinner (TptFindingsPage *self)
{
  gtk_spinner_set_spinning (self->spinner, tpt_findings_is_running (self));
}

static void
ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFindingsPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  guint run = find_run (self, result);

  if (run == TPT_N_RUNS)
    return;
  g_clear_object (&self->runs[run].cancellable);
  tpt_findings_set_waiting (self, run, FALSE);
  if (self->runs[run].old)
    return; /* the choice is another by now, and the next run queued */
  if (good)
    runs[run].show (self, tpt_project_get_job (result));
  else
    tpt_findings_show_fault (self, run, error);
  update_spinner (self);
}

static void
start (TptFindingsPage *self, TptFindingsRun run)
{
  g_autoptr (TptJob) job = runs[run].make (self);

  self->runs[run].old = FALSE;
  self->runs[run].cancellable = g_cancellable_new ();
  tpt_findings_set_waiting (self, run, TRUE);
  tpt_project_run_async (self->project, job, self->runs[run].cancellable, ran_cb, g_object_ref (self));
}

/* What is not wanted stays old, for when it is. */
static gboolean
run_cb (gpointer data)
{
  TptFindingsPage *self = data;

  self->run_source = 0;
  for (guint i = 0; i < TPT_N_RUNS; i++)
    {
      gboolean wanted = runs[i].is_wanted (self);

      if (self->runs[i].cancellable != NULL && (self->runs[i].old || !wanted))
        {
          drop_run (&self->runs[i].cancellable);
          self->runs[i].old = TRUE;
          tpt_findings_set_waiting (self, i, FALSE);
        }
      if (self->runs[i].old && wanted)
        start (self, i);
    }
  update_spinner (self);
  return G_SOURCE_REMOVE;
}

void
tpt_findings_queue (TptFindingsPage *self)
{
  if (self->run_source == 0 && self->project != NULL)
    self->run_source = g_idle_add (run_cb, self);
}

void
tpt_findings_mark_run (TptFindingsPage *self, TptFindingsRun run)
{
  self->runs[run].old = TRUE;
  tpt_findings_queue (self);
}

static TptFindingsPart
get_ignored (TptFindingsPage *self, TptFindingsRun run)
{
  return run == TPT_RUN_STRIP || run == TPT_RUN_MONTHS ? get_without_period (self) : runs[run].ignores;
}

void
tpt_findings_mark (TptFindingsPage *self, TptFindingsPart parts)
{
  for (guint i = 0; i < TPT_N_RUNS; i++)
    if (parts & ~get_ignored (self, i))
      self->runs[i].old = TRUE;
  tpt_findings_queue (self);
}

void
tpt_findings_drop_runs (TptFindingsPage *self)
{
  g_clear_handle_id (&self->run_source, g_source_remove);
  drop_run (&self->tracking);
  for (guint i = 0; i < TPT_N_RUNS; i++)
    {
      drop_run (&self->runs[i].cancellable);
      self->runs[i].old = FALSE;
    }
}

gboolean
tpt_findings_is_running (TptFindingsPage *self)
{
  gboolean running = self->run_source != 0 || self->tracking != NULL;

  for (guint i = 0; i < TPT_N_RUNS; i++)
    running = running || self->runs[i].cancellable != NULL;
  return running;
}

/* --- tracks ----------------------------------------------------------------------------- */

static void
tracked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFindingsPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (g_task_get_cancellable (G_TASK (result)) != self->tracking)
    return;
  g_clear_object (&self->tracking);
  if (good)
    tpt_map_pair_set_tracks (self->maps, tpt_job_tracks_get_tracks (TPT_JOB_TRACKS (tpt_project_get_job (result))));
  else
    tpt_findings_show_trouble (self, error->message);
}

void
tpt_findings_read_tracks (TptFindingsPage *self)
{
  g_autoptr (TptJob) job = TPT_JOB (tpt_job_tracks_new ());

  drop_run (&self->tracking);
  self->tracking = g_cancellable_new ();
  tpt_project_run_async (self->project, job, self->tracking, tracked_cb, g_object_ref (self));
}
