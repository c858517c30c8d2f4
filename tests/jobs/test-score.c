/* Scores for being empty, from pictures taken in off a card: invented scenes
 * whose truth is known, written as JPEGs by the program's own hand. */
#include "config.h"

#include "blank-scenes.h"
#include "jobs-fixture.h"
#include "tpt-exif.h"
#include "tpt-frames.h"
#include "tpt-job-decide.h"
#include "tpt-job-intake.h"
#include "tpt-job-score.h"
#include "tpt-picture-file.h"

#define WIDTH 320
#define HEIGHT 240
#define SEED 4

#define MANY { "many", .wind = 0.006, .leaves = 60, .noise = 2, .cloud = 0.2, .small = 0.03, .large = 0.2, .faint = 0.5, .strong = 1.2 }

static BlankCondition
make_condition (guint n_triggers, guint n_frames)
{
  BlankCondition condition = MANY;

  condition.n_triggers = n_triggers;
  condition.n_frames = n_frames;
  return condition;
}

/* Colours of leaves and earth, so that it is no infra-red picture. */
static void
write_frame (const char *path, const guint8 *grey, int width, int height, TptInstant when)
{
  g_autofree guint8 *rgb = g_malloc (3 * (gsize) width * (gsize) height);
  TptExifStamp stamp = { .make = "Invented", .model = "Trail 1", .temperature_c = NAN, .flash = 0 };
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < width * height; i++)
    {
      int warm = (i / 16) % 3 * 12 - 12;

      rgb[3 * i] = (guint8) CLAMP (grey[i] + warm, 0, 255);
      rgb[3 * i + 1] = grey[i];
      rgb[3 * i + 2] = (guint8) CLAMP (grey[i] - warm, 0, 255);
    }
  stamp.reading = (TptReading){ when + 8 * TPT_HOUR, TPT_NO_OFFSET };
  tpt_picture_file_write (path, rgb, width, height, &stamp, &error);
  g_assert_no_error (error);
}

/* Triggers from May 2nd on, the frames of each a second apart. */
static void
write_card (JobsFixture *f, const BlankScene *scene)
{
  const BlankCondition *c = scene->condition;
  g_autofree char *folder = g_build_filename (f->folder, "CARD", "DCIM", "100TRAIL", NULL);
  g_autofree guint8 *grey = g_malloc ((gsize) scene->width * (gsize) scene->height);

  g_mkdir_with_parents (folder, 0755);
  for (guint i = 0; i < c->n_triggers * c->n_frames; i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/A%04u.JPG", folder, i + 1);

      blank_scene_render (scene, i / c->n_frames, i % c->n_frames, grey);
      write_frame (path, grey, scene->width, scene->height,
                   at ("2026-05-02T00:00:00Z") + scene->at[i / c->n_frames] + i % c->n_frames * TPT_SECOND);
    }
}

/* (transfer full): what is on the card that was taken in. */
static BlankScene *
take_in (JobsFixture *f, const BlankCondition *condition, int width, int height)
{
  BlankScene *scene = blank_scene_new (condition, SEED, width, height);
  g_autofree char *card = g_build_filename (f->folder, "CARD", NULL);
  g_autofree char *frames = g_strdup_printf ("%u", condition->n_frames);
  g_autoptr (TptJobIntake) job = tpt_job_intake_new ("D1", card);

  tpt_exif_init ();
  PUT (TPT_TABLE_STATIONS, "station", "OAK");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "OAK", "start", "2026-05-01", "end", "2026-07-01", "frames_per_trigger", frames);
  write_card (f, scene);
  jobs_run (f, job);
  g_assert_cmpint (tpt_job_intake_get_triggers (job), ==, condition->n_triggers);
  return scene;
}

static TptJobScore *
score (JobsFixture *f, gboolean again)
{
  TptJobScore *job = tpt_job_score_new (NULL, again);

  jobs_run (f, job);
  return job;
}

/* (transfer full) (element-type double): by start; NAN where there is none. */
static GArray *
read_scores (JobsFixture *f)
{
  g_autoptr (TptDb) db = tpt_db_open (f->path, TPT_DB_READ, NULL);
  g_autoptr (TptStmt) stmt = tpt_db_prepare (db, "SELECT blank_score FROM triggers WHERE frames > 0 ORDER BY start_at", NULL);
  GArray *scores = g_array_new (FALSE, FALSE, sizeof (double));

  while (tpt_stmt_next (stmt, NULL))
    {
      double value = tpt_stmt_double (stmt, 0);

      g_array_append_val (scores, value);
    }
  return scores;
}

static gint64
ask (JobsFixture *f, const char *sql)
{
  g_autoptr (TptDb) db = tpt_db_open (f->path, TPT_DB_READ, NULL);
  gint64 value = -1;

  tpt_db_query_int (db, sql, &value, NULL);
  return value;
}

static void
change (JobsFixture *f, const char *sql)
{
  g_autoptr (TptDb) db = tpt_db_open (f->path, TPT_DB_WRITE, NULL);
  g_autoptr (GError) error = NULL;

  tpt_db_exec (db, sql, &error);
  g_assert_no_error (error);
}

static void
assert_same (GArray *a, GArray *b)
{
  g_assert_cmpuint (a->len, ==, b->len);
  for (guint i = 0; i < a->len; i++)
    g_assert_cmpfloat (g_array_index (a, double, i), ==, g_array_index (b, double, i));
}

/* How often a blank trigger has the higher score of the two. */
static double
area (const BlankScene *scene, GArray *scores)
{
  double wins = 0, pairs = 0;

  for (guint i = 0; i < scores->len; i++)
    for (guint j = 0; j < scores->len; j++)
      if (scene->shown[i] && !scene->shown[j])
        {
          wins += g_array_index (scores, double, i) < g_array_index (scores, double, j);
          pairs += 1;
        }
  return wins / pairs;
}

/* Through files: the order is right, is the same again, also when worked out
 * bit by bit, and leaves nothing to undo. */
static void
test_files (JobsFixture *f, gconstpointer data)
{
  BlankCondition condition = make_condition (24, 2);
  BlankScene *scene = take_in (f, &condition, WIDTH, HEIGHT);
  gint64 entries = ask (f, "SELECT count(*) FROM journal");
  g_autoptr (TptJobScore) job = score (f, FALSE), more = NULL, again = NULL, rest = NULL;
  g_autoptr (GArray) scores = read_scores (f), after = NULL, pieced = NULL;

  g_assert_cmpint (tpt_job_score_get_triggers (job), ==, 24);
  g_assert_cmpint (tpt_job_score_get_scored (job), ==, 24);
  g_assert_cmpint (tpt_job_score_get_unseen (job), ==, 0);
  for (guint i = 0; i < scores->len; i++)
    g_assert_true (g_array_index (scores, double, i) >= 0 && g_array_index (scores, double, i) <= 1);
  g_test_message ("area %.4f", area (scene, scores));
  /* Two of the 144 pairs may be the wrong way round: strong compression is nothing the method knows. */
  g_assert_cmpfloat (area (scene, scores), >=, 0.98);

  more = score (f, FALSE);
  g_assert_cmpint (tpt_job_score_get_triggers (more), ==, 0);
  again = score (f, TRUE);
  g_assert_cmpint (tpt_job_score_get_scored (again), ==, 24);
  after = read_scores (f);
  assert_same (scores, after);
  change (f, "UPDATE triggers SET blank_score = NULL WHERE id % 3 = 1");
  rest = score (f, FALSE);
  g_assert_cmpint (tpt_job_score_get_triggers (rest), ==, 8);
  pieced = read_scores (f);
  assert_same (scores, pieced);

  g_assert_cmpint (ask (f, "SELECT count(*) FROM journal"), ==, entries);
  jobs_undo (f, FALSE);
  g_assert_cmpint (ask (f, "SELECT count(*) FROM batches WHERE active"), ==, 0);
  jobs_undo (f, TRUE);
  g_assert_cmpint (ask (f, "SELECT count(blank_score) FROM triggers"), ==, 24);
  jobs_assert_sound (f, TRUE);
  blank_scene_free (scene);
}

static void
cancel_cb (TptJob *job, double progress, const char *text, gpointer data)
{
  g_assert_nonnull (text);
  if (progress > 0)
    g_cancellable_cancel (data);
}

/* Stopped after the first portion: that is kept, the rest follows, and all is as
 * if it had not been stopped. */
static void
test_cancel (JobsFixture *f, gconstpointer data)
{
  BlankCondition condition = make_condition (80, 1);
  BlankScene *scene = take_in (f, &condition, 160, 120);
  g_autoptr (TptJobScore) job = tpt_job_score_new (NULL, FALSE), rest = NULL, again = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GArray) pieced = NULL, whole = NULL;
  g_autoptr (GError) error = NULL;

  tpt_job_set_progress_func (TPT_JOB (job), cancel_cb, cancellable);
  g_assert_false (tpt_project_run (f->project, TPT_JOB (job), cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpint (ask (f, "SELECT count(blank_score) FROM triggers"), ==, 64);
  rest = score (f, FALSE);
  g_assert_cmpint (tpt_job_score_get_triggers (rest), ==, 16);
  pieced = read_scores (f);
  again = score (f, TRUE);
  whole = read_scores (f);
  assert_same (pieced, whole);
  blank_scene_free (scene);
}

/* What cannot be judged keeps no score, and says so. */
static void
test_too_little (JobsFixture *f, gconstpointer data)
{
  BlankCondition condition = make_condition (3, 1);
  BlankScene *scene = take_in (f, &condition, 160, 120);
  g_autoptr (TptJobScore) job = score (f, FALSE), gone = NULL, none = tpt_job_score_new ("NOWHERE", FALSE);
  g_autoptr (GError) error = NULL;
  g_autofree char *pictures = g_build_filename (f->folder, "pictures", NULL);

  g_assert_cmpint (tpt_job_score_get_triggers (job), ==, 3);
  g_assert_cmpint (tpt_job_score_get_scored (job), ==, 0);
  g_assert_cmpint (tpt_job_score_get_unseen (job), ==, 0);
  jobs_remove_tree (pictures);
  gone = score (f, FALSE);
  g_assert_cmpint (tpt_job_score_get_unseen (gone), ==, 3);
  g_assert_cmpint (ask (f, "SELECT count(blank_score) FROM triggers"), ==, 0);
  g_assert_false (tpt_project_run (f->project, TPT_JOB (none), NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  blank_scene_free (scene);
}

/* Two frames a trigger are enough where nothing else is there. */
static void
test_burst (JobsFixture *f, gconstpointer data)
{
  BlankCondition condition = make_condition (3, 2);
  BlankScene *scene = take_in (f, &condition, 160, 120);
  g_autoptr (TptJobScore) job = score (f, FALSE);

  g_assert_cmpint (tpt_job_score_get_scored (job), ==, 3);
  blank_scene_free (scene);
}

/* Scores that came after a trigger was split do not keep that from being taken
 * back; the score of before is there again. */
static void
test_undo (JobsFixture *f, gconstpointer data)
{
  BlankCondition condition = make_condition (6, 2);
  BlankScene *scene = take_in (f, &condition, 160, 120);
  g_autoptr (TptJobScore) first = score (f, FALSE), second = NULL;
  gint64 frame = ask (f, "SELECT max(id) FROM frames");
  g_autoptr (TptJobRegroup) split = tpt_job_regroup_new_split (frame);
  g_autoptr (GArray) before = read_scores (f), between = NULL, after = NULL;

  jobs_run (f, split);
  g_assert_cmpint (ask (f, "SELECT count(*) FROM triggers WHERE frames > 0 AND blank_score IS NULL"), ==, 2);
  second = score (f, FALSE);
  g_assert_cmpint (tpt_job_score_get_scored (second), ==, 2);
  between = read_scores (f);
  g_assert_cmpuint (between->len, ==, 7);
  jobs_undo (f, FALSE);
  after = read_scores (f);
  assert_same (before, after);
  jobs_undo (f, TRUE);
  g_assert_cmpint (ask (f, "SELECT count(*) FROM triggers WHERE frames > 0"), ==, 7);
  jobs_assert_sound (f, TRUE);
  blank_scene_free (scene);
}

/* A disk that is full at the n-th write: no half portion, and it goes on. */
static void
test_fault (JobsFixture *f, gconstpointer data)
{
  BlankCondition condition = make_condition (6, 1);
  BlankScene *scene = take_in (f, &condition, 160, 120);
  guint failed = 0;

  for (int n = 1; n < 20; n++)
    {
      g_autoptr (TptJobScore) job = tpt_job_score_new (NULL, FALSE);
      g_autoptr (GError) error = NULL;
      gboolean good;

      tpt_fault_arm (n);
      good = tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
      tpt_fault_arm (0);
      g_assert_cmpint (ask (f, "SELECT count(blank_score) FROM triggers"), ==, good ? 6 : 0);
      failed += !good;
      if (good)
        break;
    }
  g_assert_cmpuint (failed, >, 0);
  g_assert_cmpint (ask (f, "SELECT count(blank_score) FROM triggers"), ==, 6);
  blank_scene_free (scene);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/score/files", test_files);
  ADD ("/score/cancel", test_cancel);
  ADD ("/score/too-little", test_too_little);
  ADD ("/score/burst", test_burst);
  ADD ("/score/undo", test_undo);
  ADD ("/score/fault", test_fault);
  return g_test_run ();
}
