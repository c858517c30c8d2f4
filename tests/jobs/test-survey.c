/* Which deployment a card is told to have stood in, and why not. The rules are
 * those of tpt-job-survey.h and tpt-card-match.c: our own. */
#include "config.h"

#include "card-fixture.h"
#include "tpt-job-intake.h"
#include "tpt-job-survey.h"

/* Three stations at the same time; at OAK the camera A100, at ELM B200, at FIG
 * one whose serial number nobody wrote down. Before that A100 stood at ELM. */
static void
set_up (JobsFixture *f, gconstpointer data)
{
  tpt_exif_init ();
  jobs_set_up (f, "Asia/Kuching");
  jobs_set (f, "clock_at", "2026-06-10T12:00:00+08:00");
  PUT (TPT_TABLE_STATIONS, "station", "OAK", "name", "Old oak");
  PUT (TPT_TABLE_STATIONS, "station", "ELM");
  PUT (TPT_TABLE_STATIONS, "station", "FIG");
  PUT (TPT_TABLE_UNITS, "unit", "K1", "kind", "camera", "serial", "A100");
  PUT (TPT_TABLE_UNITS, "unit", "K2", "kind", "camera", "serial", "B200");
  PUT (TPT_TABLE_UNITS, "unit", "K3", "kind", "camera");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "ELM-0", "station", "ELM", "start", "2026-04-01", "end", "2026-05-01");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "OAK-1", "station", "OAK", "start", "2026-05-01T10:00", "end", "2026-06-01T10:00");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "ELM-1", "station", "ELM", "start", "2026-05-01T12:00", "end", "2026-06-01T12:00");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "FIG-1", "station", "FIG", "start", "2026-05-01T14:00", "end", "2026-06-01T14:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "ELM-0", "unit", "K1", "from", "2026-04-01", "to", "2026-05-01");
  PUT (TPT_TABLE_FITTINGS, "deployment", "OAK-1", "unit", "K1", "from", "2026-05-01T10:00", "to", "2026-06-01T10:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "ELM-1", "unit", "K2", "from", "2026-05-01T12:00", "to", "2026-06-01T12:00");
  PUT (TPT_TABLE_FITTINGS, "deployment", "FIG-1", "unit", "K3", "from", "2026-05-01T14:00", "to", "2026-06-01T14:00");
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "OAK", "at", "2026-06-01T10:00", "found", "working", "camera_clock",
       "2026-06-01T09:58:20", "true_clock", "2026-06-01T10:00:00", "frames_on_card", "4");
  PUT (TPT_TABLE_VISITS, "visit", "V2", "station", "ELM", "at", "2026-06-01T12:00", "found", "working", "frames_on_card", "400");
}

typedef struct {
  const char *name;
  const char *dates[6];
  const char *serial;
  const char *best;       /* deployment at the head */
  guint objections;       /* of it */
  const char *objects;    /* part of the first objection */
  const char *steps;      /* of it, with + proposed, - not */
} Case;

static const Case cases[] = {
  { "serial, dates and count agree; the clock was slow", { "2026-05-02T10:00:00", "2026-05-20T10:00:00", "2026-05-21T10:00:00" },
    "A100", "OAK-1", 0, NULL, "offset+" },
  { "the same camera a month before", { "2026-04-02T10:00:00", "2026-04-20T10:00:00" }, "A100", "ELM-0", 0, NULL, "" },
  { "written another way", { "2026-05-02T10:00:00" }, "00a-100", "OAK-1", 0, NULL, "offset+" },
  { "the visit counted far more frames", { "2026-05-02T10:00:00" }, "B200", "ELM-1", 1, "399 fewer", "" },
  { "a camera nobody has on record fits where no number is written down", { "2026-05-02T20:00:00" }, "Z999", "FIG-1", 0, NULL, "" },
  { "frames after the end", { "2026-05-20T10:00:00", "2026-06-02T10:00:00" }, "A100", "OAK-1", 1, "1 of 2 frames lies after", "offset+" },
  { "frames in the future", { "2026-05-20T10:00:00", "2026-06-20T10:00:00", "2026-06-21T10:00:00" }, "A100", "OAK-1", 2, "2 of 3 frames lie after", "offset+" },
  { "a clock that lost its time, and was read at the end: the reading does not fit, the visit does",
    { "2026-05-02T10:00:00", "2015-01-01T00:00:00", "2015-01-01T10:00:00" }, "A100", "OAK-1", 1, "2 of 3 frames lie before", "offset+" },
};

static char *
describe_steps (const TptSurveyMatch *match)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < match->steps->len; i++)
    {
      const TptClockStep *step = match->steps->pdata[i];

      g_assert_nonnull (step->says);
      g_string_append_printf (text, "%s%s%c", i > 0 ? " " : "", step->id, step->proposed ? '+' : '-');
    }
  return g_string_free (text, FALSE);
}

static void
print_match (const TptSurveyMatch *match)
{
  g_test_message ("  %s %.3f", match->deployment, match->fits);
  for (guint i = 0; i < match->reasons->len; i++)
    g_test_message ("    + %s", (char *) match->reasons->pdata[i]);
  for (guint i = 0; i < match->objections->len; i++)
    g_test_message ("    - %s", (char *) match->objections->pdata[i]);
}

static void
test_matches (JobsFixture *f, gconstpointer data)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = g_strdup_printf ("CARD%u", (guint) i);
      g_autofree char *card = card_write (f, name, cases[i].dates, cases[i].serial);
      g_autoptr (TptJobSurvey) job = tpt_job_survey_new (card);
      g_autofree char *steps = NULL;
      const TptSurveyMatch *best;

      jobs_run (f, job);
      g_test_message ("%s", cases[i].name);
      g_ptr_array_foreach (tpt_job_survey_get_matches (job), (GFunc) (void (*) (void)) print_match, NULL);
      g_assert_cmpint (tpt_job_survey_get_frames (job), ==, g_strv_length ((char **) cases[i].dates));
      g_assert_cmpuint (tpt_job_survey_get_matches (job)->len, ==, 4);
      best = tpt_job_survey_get_matches (job)->pdata[0];
      g_assert_cmpstr (best->deployment, ==, cases[i].best);
      g_assert_cmpuint (best->objections->len, ==, cases[i].objections);
      if (cases[i].objects != NULL)
        g_assert_nonnull (strstr (best->objections->pdata[0], cases[i].objects));
      steps = describe_steps (best);
      g_assert_cmpstr (steps, ==, cases[i].steps);
    }
}

/* A deployment that another camera stood in is objected to by name. */
static void
test_other_camera (JobsFixture *f, gconstpointer data)
{
  const char *dates[] = { "2026-05-02T10:00:00", NULL };
  g_autofree char *card = card_write (f, "CARD", dates, "A100");
  g_autoptr (TptJobSurvey) job = tpt_job_survey_new (card);

  jobs_run (f, job);
  for (guint i = 0; i < 4; i++)
    {
      const TptSurveyMatch *match = tpt_job_survey_get_matches (job)->pdata[i];

      if (g_str_has_prefix (match->deployment, "ELM-1") || g_str_has_prefix (match->deployment, "FIG-1"))
        g_assert_nonnull (strstr (match->objections->pdata[0], "K1"));
    }
}

static void
test_totals (JobsFixture *f, gconstpointer data)
{
  const char *dates[] = { "2026-05-02T10:00:00", "2026-05-01T11:00:00", "2026-05-03T09:00:00", NULL };
  g_autofree char *card = card_write (f, "CARD", dates, "A100");
  g_autofree char *other = g_build_filename (card, "DCIM", "notes.txt", NULL);
  g_autofree char *clip = g_build_filename (card, "DCIM", "100", "A0009.MP4", NULL);
  g_autoptr (TptJobSurvey) before = tpt_job_survey_new (card), after = tpt_job_survey_new (card);
  g_autoptr (TptJobIntake) intake = tpt_job_intake_new ("OAK-1", card);
  const TptSurveyCamera *camera;

  g_assert_true (g_file_set_contents (other, "x", -1, NULL));
  g_assert_true (g_file_set_contents (clip, "no clip at all", -1, NULL));
  jobs_run (f, before);
  g_assert_cmpint (tpt_job_survey_get_frames (before), ==, 4);
  g_assert_cmpint (tpt_job_survey_get_clips (before), ==, 1);
  g_assert_cmpint (tpt_job_survey_get_others (before), ==, 1);
  g_assert_cmpint (tpt_job_survey_get_on_record (before), ==, 0);
  g_assert_cmpstr (tpt_job_survey_get_first_reading (before), ==, "2026-05-01T11:00:00");
  g_assert_cmpstr (tpt_job_survey_get_last_reading (before), ==, "2026-05-03T09:00:00");
  g_assert_cmpuint (tpt_job_survey_get_cameras (before)->len, ==, 1);
  camera = tpt_job_survey_get_cameras (before)->pdata[0];
  g_assert_cmpstr (camera->serial, ==, "A100");
  g_assert_cmpuint (camera->frames, ==, 3);

  jobs_run (f, intake);
  jobs_run (f, after);
  g_assert_cmpint (tpt_job_survey_get_on_record (after), ==, 3);
}

static void
test_two_cameras (JobsFixture *f, gconstpointer data)
{
  const char *dates[] = { "2026-05-02T10:00:00", "2026-05-03T10:00:00", NULL };
  g_autofree char *card = card_write (f, "CARD", dates, "A100");
  g_autofree char *foreign = g_build_filename (card, "DCIM", "101", "B0001.JPG", NULL);
  g_autoptr (TptJobSurvey) job = tpt_job_survey_new (card);
  const TptSurveyMatch *best;

  card_write_picture (foreign, 77, "2026-05-04T10:00:00", "B200");
  jobs_run (f, job);
  best = tpt_job_survey_get_matches (job)->pdata[0];
  g_assert_cmpstr (best->deployment, ==, "OAK-1");
  g_assert_nonnull (strstr (best->objections->pdata[0], "2 cameras"));
}

static gboolean
tells_of_earlier_run (JobsFixture *f, const char *card, const char *words)
{
  g_autoptr (TptJobSurvey) job = tpt_job_survey_new (card);
  const TptSurveyMatch *best;

  jobs_run (f, job);
  best = tpt_job_survey_get_matches (job)->pdata[0];
  g_assert_cmpstr (best->deployment, ==, "OAK-1");
  for (guint i = 0; i < best->reasons->len; i++)
    if (strstr (best->reasons->pdata[i], words) != NULL)
      return TRUE;
  return FALSE;
}

/* An intake that did not come to its end left two copies, and nothing on record:
 * that is told until it is done. */
static void
test_begun (JobsFixture *f, gconstpointer data)
{
  const char *dates[] = { "2026-05-02T10:00:00", "2026-05-03T10:00:00", "2026-05-04T10:00:00", NULL };
  g_autofree char *card = card_write (f, "CARD", dates, "A100");
  g_autoptr (TptJobIntake) first = tpt_job_intake_new ("OAK-1", card), again = tpt_job_intake_new ("OAK-1", card);
  g_autofree char *copy = NULL;

  g_assert_false (tells_of_earlier_run (f, card, "earlier run"));
  jobs_run (f, first);
  g_assert_false (tells_of_earlier_run (f, card, "earlier run")); /* all is on record */
  jobs_undo (f, FALSE);
  copy = jobs_path (f, "pictures/OAK-1/DCIM/100/A0002.JPG");
  g_assert_cmpint (g_remove (copy), ==, 0);
  g_assert_true (tells_of_earlier_run (f, card, "had copied 2 of these frames"));
  jobs_run (f, again);
  g_assert_cmpint (tpt_job_intake_get_frames (again), ==, 3);
  g_assert_false (tells_of_earlier_run (f, card, "earlier run"));
}

static void
test_stopped (JobsFixture *f, gconstpointer data)
{
  const char *dates[] = { "2026-05-02T10:00:00", NULL };
  g_autofree char *card = card_write (f, "CARD", dates, "A100"), *none = jobs_path (f, "NONE");
  g_autoptr (TptJobSurvey) job = tpt_job_survey_new (card), lost = tpt_job_survey_new (none);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_false (tpt_project_run (f->project, TPT_JOB (job), cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&error);
  g_assert_false (tpt_project_run (f->project, TPT_JOB (lost), NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_RECORDS(name, function) g_test_add (name, JobsFixture, NULL, set_up, function, jobs_tear_down)
  ADD_RECORDS ("/survey/matches", test_matches);
  ADD_RECORDS ("/survey/other-camera", test_other_camera);
  ADD_RECORDS ("/survey/totals", test_totals);
  ADD_RECORDS ("/survey/two-cameras", test_two_cameras);
  ADD_RECORDS ("/survey/begun", test_begun);
  ADD_RECORDS ("/survey/stopped", test_stopped);
  return g_test_run ();
}
