/* Does what the window does, with its n-th writing step failing on purpose.
 *
 *   fault-driver visit|rig-visit|set-out|decide|settle|mark|split|join|undo|redo FILE N [again]
 *
 * N = 0 fails nothing. With "again" the same is tried once more in the same
 * process after a failure, as somebody at the screen would. Prints "failed" or
 * "done" for each try; the exit status is that of the last. */
#include "config.h"

#include <stdlib.h>

#include "tpt-error.h"
#include "tpt-job-decide.h"
#include "tpt-job-edit.h"
#include "tpt-job-frames.h"
#include "tpt-job-undo.h"
#include "tpt-job-visit.h"
#include "tpt-project.h"

static TptRecord *
make_record (TptProject *project, TptTableId table, const char *const *cells)
{
  TptRecord *record = tpt_record_new (table);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; cells[i] != NULL; i += 2)
    {
      tpt_record_set_from_string (record, cells[i], cells[i + 1], tpt_project_get_zone (project), &error);
      g_assert_no_error (error);
    }
  return record;
}

static void
add_record (TptJobEdit *job, TptProject *project, TptTableId table, const char *const *cells)
{
  g_autoptr (TptRecord) record = make_record (project, table, cells);

  tpt_job_edit_save (job, record);
}

#define ADD(job, project, table, ...) add_record (job, project, table, (const char *const[]){ __VA_ARGS__, NULL })

static TptJob *
make_visit (TptProject *project)
{
  TptJobEdit *job = tpt_job_edit_new ("Record visit at North saddle");

  ADD (job, project, TPT_TABLE_VISITS, "station", "S1", "at", "2024-05-02T09:15", "people", "A. Guide", "found", "dead", "notes",
       "ants in the box");
  ADD (job, project, TPT_TABLE_READINGS, "unit", "C1", "percent", "4", "action", "swapped");
  ADD (job, project, TPT_TABLE_READINGS, "unit", "M1", "action", "swapped");
  tpt_job_edit_set_setting (job, "round_at", "2024-06-01T08:00+08:00");
  return TPT_JOB (job);
}

static void
add_line (GPtrArray *lines, TptRecord *reading, const char *cause)
{
  g_autoptr (TptRecord) owned = reading;

  g_ptr_array_add (lines, tpt_visit_line_new (owned, cause));
}

#define MAKE(project, table, ...) make_record (project, table, (const char *const[]){ __VA_ARGS__, NULL })

/* The form for a whole rig: a card and a camera change places with others, a
 * cause goes into a log, cells leave the shelf. */
static TptJob *
make_rig_visit (TptProject *project)
{
  g_autoptr (TptRecord) visit =
    MAKE (project, TPT_TABLE_VISITS, "station", "S1", "at", "2024-05-02T09:15", "people", "A. Guide", "found", "disturbed");
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_visit_line_free);

  add_line (lines, MAKE (project, TPT_TABLE_READINGS, "unit", "C1", "percent", "4", "action", "swapped"), "insects");
  add_line (lines, MAKE (project, TPT_TABLE_READINGS, "unit", "M1", "action", "swapped", "replacement", "M2"), NULL);
  return TPT_JOB (tpt_job_visit_new ("Record visit at North saddle", visit, lines, FALSE));
}

static TptJob *
make_set_out (TptProject *project)
{
  TptJobEdit *job = tpt_job_edit_new ("Set out at Lower ford");

  ADD (job, project, TPT_TABLE_UNITS, "unit", "C2", "kind", "camera", "chemistry", "nimh");
  ADD (job, project, TPT_TABLE_DEPLOYMENTS, "station", "S2", "start", "2024-10-02T09:15", "frames_per_trigger", "3");
  ADD (job, project, TPT_TABLE_FITTINGS, "unit", "C2", "from", "2024-10-02T09:15");
  ADD (job, project, TPT_TABLE_FITTINGS, "unit", "M1", "from", "2024-10-02T09:15");
  return TPT_JOB (job);
}

/* The keys of every frame, by time. */
static GArray *
find_frames (TptProject *project)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobFrames) job = NULL;
  g_autoptr (GError) error = NULL;

  query->every_frame = TRUE;
  job = tpt_job_frames_new (query);
  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  return tpt_job_frames_steal_refs (job);
}

/* What is done while pictures are sorted, to the first frames there are. */
static TptJob *
make_sorting (const char *word, TptProject *project)
{
  static const TptDecision said = { .type = "animal", .count = 2, .sex = "female", .certainty = 0.5, .by = "B. Guide" };
  g_autoptr (GArray) frames = find_frames (project);
  const TptFrameRef *first = &g_array_index (frames, TptFrameRef, 0), *last = &g_array_index (frames, TptFrameRef, frames->len - 1);
  gint64 triggers[] = { first->trigger_id, last->trigger_id };
  gint64 marked[] = { first->frame_id, last->frame_id };

  if (g_str_equal (word, "decide"))
    return TPT_JOB (tpt_job_decide_new (triggers, G_N_ELEMENTS (triggers), &said));
  if (g_str_equal (word, "settle"))
    return TPT_JOB (tpt_job_settle_new (triggers, G_N_ELEMENTS (triggers), 2));
  if (g_str_equal (word, "mark"))
    return TPT_JOB (tpt_job_mark_new (marked, G_N_ELEMENTS (marked), "guests", TRUE, "B. Guide"));
  if (g_str_equal (word, "split"))
    return TPT_JOB (tpt_job_regroup_new_split (last->frame_id));
  return TPT_JOB (tpt_job_regroup_new_join (last->trigger_id));
}

static TptJob *
make_job (const char *word, TptProject *project)
{
  static const char *const sorting[] = { "decide", "settle", "mark", "split", "join", NULL };

  if (g_strv_contains (sorting, word))
    return make_sorting (word, project);
  if (g_str_equal (word, "visit"))
    return make_visit (project);
  if (g_str_equal (word, "rig-visit"))
    return make_rig_visit (project);
  if (g_str_equal (word, "set-out"))
    return make_set_out (project);
  return TPT_JOB (tpt_job_undo_new (g_str_equal (word, "redo")));
}

static int
try_once (const char *word, TptProject *project)
{
  g_autoptr (TptJob) job = make_job (word, project);
  g_autoptr (GError) error = NULL;
  gboolean done = tpt_project_run (project, job, NULL, &error);

  g_print ("%s\n", done ? "done" : "failed");
  if (!done)
    g_printerr ("%s\n", error->message);
  return tpt_error_exit_status (error);
}

int
main (int argc, char *argv[])
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  if (argc < 4)
    return 2;
  project = tpt_project_open (argv[2], &error);
  if (project == NULL)
    {
      g_printerr ("%s\n", error->message);
      return tpt_error_exit_status (error);
    }
  tpt_fault_arm (atoi (argv[3]));
  status = try_once (argv[1], project);
  tpt_fault_arm (0);
  return status != 0 && argc > 4 ? try_once (argv[1], project) : status;
}
