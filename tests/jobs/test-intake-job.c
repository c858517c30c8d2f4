#include "config.h"

#include "card-fixture.h"
#include "tpt-job-intake.h"
#include "tpt-query.h"
#include "tpt-records.h"

/* A card below the project's folder; the clock of its camera is ten minutes slow. */
static const struct {
  const char *name;
  const char *date; /* NULL: no picture at all */
} files[] = {
  { "DCIM/100/A0001.JPG", "2026-05-02T03:00:00" },
  { "DCIM/100/A0002.JPG", "2026-05-02T03:00:01" },
  { "DCIM/100/A0003.JPG", "2026-05-02T03:00:02" },
  { "DCIM/100/A0004.JPG", "2026-05-03T22:15:00" },
  { "DCIM/101/A0005.JPG", "2026-05-04T01:00:00" },
  { "DCIM/101/A0006.JPG", NULL },
};

#define N_FRAMES 5

static void
set_up (JobsFixture *f, gconstpointer data)
{
  tpt_exif_init ();
  jobs_set_up (f, "Asia/Kuching");
  PUT (TPT_TABLE_STATIONS, "station", "OAK");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "OAK", "start", "2026-05-01", "end", "2026-06-01", "frames_per_trigger", "3");
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *path = g_build_filename (f->folder, "CARD", files[i].name, NULL);
      g_autofree char *folder = g_path_get_dirname (path);

      g_mkdir_with_parents (folder, 0755);
      if (files[i].date != NULL)
        card_write_picture (path, i, files[i].date, NULL);
      else
        g_assert_true (g_file_set_contents (path, "this was never a picture", -1, NULL));
    }
}

static TptJobIntake *
prepare (JobsFixture *f)
{
  g_autofree char *card = jobs_path (f, "CARD");

  return tpt_job_intake_new ("D1", card);
}

static GArray *
read_times (JobsFixture *f)
{
  g_autoptr (TptStore) store = tpt_store_open (f->path, TRUE, NULL);
  g_autoptr (TptRecord) station = tpt_store_find (store, TPT_TABLE_STATIONS, "OAK", NULL);
  TptRange ever = { TPT_NO_INSTANT, TPT_NO_INSTANT };

  return tpt_store_read_frame_times (store, tpt_record_get_id (station), ever, NULL);
}

static guint
count_frames (JobsFixture *f)
{
  g_autoptr (GArray) times = read_times (f);

  return times->len;
}

static void
test_take_in (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobIntake) job = prepare (f);
  const TptIntakeNote *note;
  g_autofree char *kept = NULL;

  jobs_run (f, job);
  g_assert_cmpstr (tpt_job_intake_get_batch (job), ==, "D1-B01");
  g_assert_cmpint (tpt_job_intake_get_frames (job), ==, N_FRAMES);
  g_assert_cmpint (tpt_job_intake_get_triggers (job), ==, 3); /* a burst of three, and two */
  g_assert_cmpint (tpt_job_intake_get_duplicates (job), ==, 0);
  g_assert_cmpint (tpt_job_intake_get_first (job), ==, at ("2026-05-02T03:00:00+08:00"));
  g_assert_cmpint (tpt_job_intake_get_last (job), ==, at ("2026-05-04T01:00:00+08:00"));
  g_assert_cmpuint (tpt_job_intake_get_damaged (job)->len, ==, 0);
  g_assert_cmpuint (tpt_job_intake_get_unreadable (job)->len, ==, 1);
  note = tpt_job_intake_get_unreadable (job)->pdata[0];
  g_assert_cmpstr (note->file, ==, "DCIM/101/A0006.JPG");
  g_assert_true (*note->reason != '\0');
  kept = jobs_path (f, note->kept_as);
  g_assert_true (tpt_job_intake_get_safe (job));
  g_assert_cmpstr (tpt_job_intake_get_camera_model (job), ==, "Trail 1");
  g_assert_true (g_file_test (kept, G_FILE_TEST_IS_REGULAR)); /* nothing of a card is thrown away */
  g_assert_cmpuint (count_frames (f), ==, N_FRAMES);
  jobs_assert_sound (f, TRUE);
}

/* Taken in again, withdrawn, back, and taken in anew. */
static void
test_again (JobsFixture *f, gconstpointer data)
{
  static const struct {
    char step; /* t takes in, u undoes, r redoes */
    gint64 new_frames;
    const char *batch; /* NULL: none, nothing was new */
    guint on_record;
  } steps[] = {
    { 't', N_FRAMES, "D1-B01", N_FRAMES },
    { 't', 0, NULL, N_FRAMES },
    { 'u', 0, NULL, 0 },
    { 'r', 0, NULL, N_FRAMES },
    { 'u', 0, NULL, 0 },
    { 't', N_FRAMES, "D1-B02", N_FRAMES },
    { 't', 0, NULL, N_FRAMES },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_test_message ("step %u", (guint) i);
      if (steps[i].step != 't')
        jobs_undo (f, steps[i].step == 'r');
      else
        {
          g_autoptr (TptJobIntake) job = prepare (f);

          jobs_run (f, job);
          g_assert_cmpint (tpt_job_intake_get_frames (job), ==, steps[i].new_frames);
          g_assert_cmpint (tpt_job_intake_get_duplicates (job), ==, N_FRAMES - steps[i].new_frames);
          g_assert_cmpstr (tpt_job_intake_get_batch (job), ==, steps[i].batch);
        }
      g_assert_cmpuint (count_frames (f), ==, steps[i].on_record);
      jobs_assert_sound (f, TRUE);
    }
}

/* What the camera showed and the true time put every frame right. */
static void
test_clock (JobsFixture *unused, gconstpointer data)
{
  static const struct {
    const char *read, *true_time;
    double offset_s;   /* NAN: refused */
    const char *first; /* of the frames on record */
  } cases[] = {
    { NULL, NULL, 0, "2026-05-02T03:00:00+08:00" },
    { "2026-06-01T09:50:00", "2026-06-01T10:00:00", 600, "2026-05-02T03:10:00+08:00" },
    { "2026-06-01T09:50:00", "2026-06-01T02:00:00Z", 600, "2026-05-02T03:10:00+08:00" },
    { "2016-01-01T00:00:00", "2016-01-01T00:00:00-01:00", 32400, "2026-05-02T12:00:00+08:00" },
    { "2026-06-01T10:00:30", "2026-06-01T10:00:00", -30, "2026-05-02T02:59:30+08:00" },
    { "2026-06-01T10:00:00", NULL, NAN, NULL },
    { NULL, "2026-06-01T10:00:00", NAN, NULL },
    { "yesterday", "2026-06-01T10:00:00", NAN, NULL },
    { "2026-06-01T10:00:00", "2026-06-31T10:00:00", NAN, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptJobIntake) job = NULL;
      g_autoptr (GArray) times = NULL;
      g_autoptr (GError) error = NULL;

      set_up (f, NULL);
      job = prepare (f);
      tpt_job_intake_set_clock (job, cases[i].read, cases[i].true_time);
      tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
      g_test_message ("%s, %s", cases[i].read, cases[i].true_time);
      times = read_times (f);
      if (isnan (cases[i].offset_s))
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_USAGE);
          g_assert_cmpuint (times->len, ==, 0);
        }
      else
        {
          g_assert_no_error (error);
          g_assert_cmpfloat (tpt_job_intake_get_clock_offset (job), ==, cases[i].offset_s);
          g_assert_cmpint (g_array_index (times, TptInstant, 0), ==, at (cases[i].first));
        }
      jobs_tear_down (f, NULL);
    }
}

/* Only looking: what is missing is told, nothing is copied or recorded. */
static void
test_verify_only (JobsFixture *f, gconstpointer data)
{
  static const guint missing[] = { G_N_ELEMENTS (files), 0, 1 }; /* before, after, with one picture gone */
  g_autofree char *pictures = jobs_path (f, "pictures");

  for (gsize i = 0; i < G_N_ELEMENTS (missing); i++)
    {
      g_autoptr (TptJobIntake) look = prepare (f);

      if (i == 1)
        {
          g_autoptr (TptJobIntake) take = prepare (f);
          jobs_run (f, take);
        }
      if (i == 2)
        {
          g_autofree char *picture = g_build_filename (pictures, "D1", "DCIM", "100", "A0004.JPG", NULL);
          g_assert_cmpint (g_remove (picture), ==, 0);
        }
      tpt_job_intake_set_verify_only (look, TRUE);
      jobs_run (f, look);
      g_assert_null (tpt_job_intake_get_batch (look));
      g_assert_cmpuint (tpt_job_intake_get_missing (look)->len, ==, missing[i]);
      g_assert_cmpuint (count_frames (f), ==, i == 0 ? 0 : N_FRAMES);
      if (i == 0)
        g_assert_false (g_file_test (pictures, G_FILE_TEST_EXISTS));
    }
}

/* A card is safe to use again only while everything on it is kept and can be read back. */
static void
test_safe (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *what;
    const char *spoil; /* a copy to change before the card is taken in once more */
    gboolean remove;
    gboolean safe;
  } rows[] = {
    { "taken in", NULL, FALSE, TRUE },
    { "again, all on record", NULL, FALSE, TRUE },
    { "again, a copy has changed", "D1/DCIM/100/A0003.JPG", FALSE, FALSE },
    { "again, a copy is gone", "D1/DCIM/100/A0003.JPG", TRUE, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (TptJobIntake) job = prepare (f);
      g_autofree char *copy = rows[i].spoil != NULL ? g_build_filename (f->folder, "pictures", rows[i].spoil, NULL) : NULL;

      if (copy != NULL && rows[i].remove)
        g_assert_cmpint (g_remove (copy), ==, 0);
      else if (copy != NULL)
        g_assert_true (g_file_set_contents (copy, "something else", -1, NULL));
      jobs_run (f, job);
      g_test_message ("%s: %s", rows[i].what, tpt_job_intake_get_why_not (job));
      g_assert_cmpint (tpt_job_intake_get_safe (job), ==, rows[i].safe);
      g_assert_cmpint (tpt_job_intake_get_why_not (job) == NULL, ==, rows[i].safe);
    }
}

static void
test_refused (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *deployment, *card, *pictures;
    int code;
  } cases[] = {
    { "D9", "CARD", "pictures", TPT_ERROR_DATA },
    { "D1", "NO-CARD", "pictures", TPT_ERROR_IO },
    { "D1", "CARD", "../pictures", TPT_ERROR_USAGE },
    { "D1", "CARD", "/tmp", TPT_ERROR_USAGE },
    { "D1", "CARD", "", TPT_ERROR_USAGE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *card = jobs_path (f, cases[i].card);
      g_autoptr (TptJobIntake) job = tpt_job_intake_new (cases[i].deployment, card);
      g_autoptr (GError) error = NULL;

      tpt_job_intake_set_pictures (job, cases[i].pictures);
      g_test_message ("row %u", (guint) i);
      g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
      g_assert_error (error, TPT_ERROR, cases[i].code);
      g_assert_cmpuint (count_frames (f), ==, 0);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_CARD(name, function) g_test_add (name, JobsFixture, NULL, set_up, function, jobs_tear_down)
  ADD_CARD ("/intake-job/take-in", test_take_in);
  ADD_CARD ("/intake-job/again", test_again);
  ADD ("/intake-job/clock", test_clock);
  ADD_CARD ("/intake-job/verify-only", test_verify_only);
  ADD_CARD ("/intake-job/safe", test_safe);
  ADD_CARD ("/intake-job/refused", test_refused);
  return g_test_run ();
}
