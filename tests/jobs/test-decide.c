#include "config.h"

#include "db.h"
#include "frames-fixture.h"

#define DEER .type = "animal", .species = "Tragulus kanchil"
#define CIVET .type = "animal", .species = "Hemigalus derbyanus"
#define BLANK .type = "blank"

/* One after another about the same trigger; what is on record afterwards, by
 * opinion, then code. Where two rows of a number are expected their order is
 * that of their codes, which are random: @also is the other order. */
static void
test_rules (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *what;
    TptDecision said[4];
    guint n;
    const char *left;
    const char *also;
  } cases[] = {
    { "one", { { DEER, .count = 2, .sex = "female", .by = "Mira" } }, 1, "1 Mira: 2 Lesser mouse-deer, female" },
    { "somebody without a name", { { BLANK } }, 1, "1 -: Blank" },
    { "instead of what the same person said", { { DEER, .by = "Mira" }, { BLANK, .by = "Mira" } }, 2, "1 Mira: Blank" },
    { "and of several", { { DEER, .by = "Mira" }, { CIVET, .by = "Mira", .besides = TRUE }, { BLANK, .by = "Mira" } }, 3, "1 Mira: Blank" },
    { "several species", { { DEER, .by = "Mira" }, { CIVET, .by = "Mira", .besides = TRUE } }, 2,
      "1 Mira: Lesser mouse-deer | 1 Mira: Banded civet", "1 Mira: Banded civet | 1 Mira: Lesser mouse-deer" },
    { "the same species again changes that one",
      { { DEER, .by = "Mira" }, { DEER, .count = 3, .by = "Mira", .besides = TRUE } }, 2, "1 Mira: 3 Lesser mouse-deer" },
    { "an animal beside blank takes its place", { { BLANK, .by = "Mira" }, { DEER, .by = "Mira", .besides = TRUE } }, 2,
      "1 Mira: Lesser mouse-deer" },
    { "a person beside an animal", { { DEER, .by = "Mira" }, { .type = "human", .by = "Mira", .besides = TRUE } }, 2,
      "1 Mira: Lesser mouse-deer | 1 Mira: Human", "1 Mira: Human | 1 Mira: Lesser mouse-deer" },
    { "another person is kept beside", { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" } }, 2,
      "1 Mira: Lesser mouse-deer | 2 Jau: Blank" },
    { "a third", { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Ana" } }, 3,
      "1 Mira: Lesser mouse-deer | 2 Jau: Blank | 3 Ana: Banded civet" },
    { "the second again", { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Jau" } }, 3,
      "1 Mira: Lesser mouse-deer | 2 Jau: Banded civet" },
    { "the first again stays first", { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Mira" } }, 3,
      "1 Mira: Banded civet | 2 Jau: Blank" },
    { "taken back", { { DEER, .by = "Mira" }, { .type = NULL, .by = "Mira" } }, 2, "" },
    { "taken back by another: nothing of that person's", { { DEER, .by = "Mira" }, { .type = NULL, .by = "Jau" } }, 2,
      "1 Mira: Lesser mouse-deer" },
    { "the first taken back: the second counts",
      { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Ana" }, { .type = NULL, .by = "Mira" } }, 4,
      "1 Jau: Blank | 2 Ana: Banded civet" },
    { "the second taken back",
      { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Ana" }, { .type = NULL, .by = "Jau" } }, 4,
      "1 Mira: Lesser mouse-deer | 2 Ana: Banded civet" },
  };

  FRAMES ("D1", "x", "2026-05-02T20:00:00");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *left = NULL, *before = frames_said (f, "x1b");

      g_test_message ("%s", cases[i].what);
      g_assert_cmpstr (before, ==, "");
      for (guint k = 0; k < cases[i].n; k++)
        {
          TptDecision said = cases[i].said[k];

          said.certainty = NAN;
          g_object_unref (frames_decide (f, "x1b", &said));
        }
      left = frames_said (f, "x1b");
      if (cases[i].also == NULL || g_strcmp0 (left, cases[i].also) != 0)
        g_assert_cmpstr (left, ==, cases[i].left);
      jobs_assert_sound (f, FALSE);
      for (guint k = 0; k < cases[i].n; k++)
        {
          /* An action that changed nothing is none. */
          g_autofree char *now = frames_said (f, "x1b");

          if (*now != '\0' || k == 0)
            jobs_undo (f, FALSE);
        }
      {
        g_autofree char *after = frames_said (f, "x1b");
        g_assert_cmpstr (after, ==, "");
      }
    }
}

/* Every row of the tables that naming touches, as text. */
static char *
dump (JobsFixture *f)
{
  static const char *const tables[] = { "observations", "triggers", "frames", "frame_marks", "batches", "species" };
  g_autoptr (TptDb) db = tpt_db_open (f->path, TPT_DB_READ, NULL);
  g_autoptr (GString) all = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autofree char *ask = g_strdup_printf ("SELECT group_concat('quote(\"' || name || '\")', '||''|''||') FROM pragma_table_info('%s')", tables[i]);
      g_autofree char *columns = tpt_db_query_text (db, ask, NULL);
      g_autofree char *sql = g_strdup_printf ("SELECT group_concat(line, x'0a') FROM (SELECT %s AS line FROM %s ORDER BY id)", columns, tables[i]);
      g_autofree char *text = tpt_db_query_text (db, sql, NULL);

      g_assert_nonnull (columns);
      g_string_append_printf (all, "%s:\n%s\n", tables[i], text != NULL ? text : "");
    }
  return g_string_free (g_steal_pointer (&all), FALSE);
}

static gint64
ask (JobsFixture *f, const char *sql)
{
  g_autoptr (TptDb) db = tpt_db_open (f->path, TPT_DB_READ, NULL);
  gint64 n = -1;

  g_assert_true (tpt_db_query_int (db, sql, &n, NULL));
  return n;
}

/* What is on record of a decision beside what was said. */
static void
test_record (JobsFixture *f, gconstpointer data)
{
  g_autofree char *row = NULL;
  g_autoptr (TptDb) db = NULL;

  jobs_set (f, "clock_at", "2026-06-12T17:00:00+08:00");
  g_clear_object (&f->project);
  f->project = tpt_project_open (f->path, NULL);
  FRAMES ("D1", "x", "2026-05-02T20:00:00");
  SAY ("x1b", DEER, .behaviour = "feeding", .individual = "torn ear", .notes = "wet", .by = "Mira");
  db = tpt_db_open (f->path, TPT_DB_READ, NULL);
  row = tpt_db_query_text (db,
                           "SELECT d.deployment || ' ' || o.start_at || ' ' || o.end_at || ' ' || o.identified_at || ' ' || o.behaviour"
                           " || ' ' || o.individual || ' ' || o.notes || ' ' || o.opinion || ' ' || (o.trigger_id = t.id) || ' '"
                           " || length(o.observation) FROM observations o JOIN deployments d ON d.id = o.deployment_id, triggers t",
                           NULL);
  g_assert_cmpstr (row, ==,
                   "D1 2026-05-02T12:00:00.000Z 2026-05-02T12:00:02.000Z 2026-06-12T09:00:00.000Z feeding torn ear wet 1 1 10");
}

static void
test_refusals (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *what;
    TptDecision said;
  } cases[] = {
    { "a type that is none", { .type = "zebra" } },
    { "a species that is not on record", { .type = "animal", .species = "Equus zebra" } },
    { "a species that is no animal", { .type = "human", .species = "Tragulus kanchil" } },
    { "a sex that is none", { DEER, .sex = "both" } },
    { "a stage that is none", { DEER, .life_stage = "old" } },
    { "fewer than nothing", { DEER, .count = -1 } },
    { "more than certain", { DEER, .certainty = 1.5 } },
  };

  FRAMES ("D1", "x", "2026-05-02T20:00:00");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptFrameRef ref = frames_ref (f, "x1a");
      g_autoptr (TptJobDecide) job = tpt_job_decide_new (&ref.trigger_id, 1, &cases[i].said);
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", cases[i].what);
      g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      g_assert_cmpint (ask (f, "SELECT count(*) FROM observations"), ==, 0);
    }
}

static void
test_settle (JobsFixture *f, gconstpointer data)
{
  TptFrameRef ref;
  g_autoptr (TptJobSettle) settle = NULL;
  g_autoptr (TptJobSettle) again = NULL;
  g_autofree char *before = NULL, *after = NULL, *back = NULL, *undone = NULL;

  FRAMES ("D1", "x", "2026-05-02T20:00:00", "2026-05-03T20:00:00");
  SAY ("x1a", DEER, .by = "Mira");
  SAY ("x1a", BLANK, .by = "Jau");
  SAY ("x1a", CIVET, .by = "Ana");
  SAY ("x2a", DEER, .by = "Mira");
  before = dump (f);
  ref = frames_ref (f, "x1a");
  settle = tpt_job_settle_new ((const gint64[]){ ref.trigger_id, frames_ref (f, "x2a").trigger_id, 4711 }, 3, 3);
  jobs_run (f, settle);
  after = frames_said (f, "x1a");
  g_assert_cmpstr (after, ==, "1 Ana: Banded civet | 50 Mira: Lesser mouse-deer | 51 Jau: Blank");
  again = tpt_job_settle_new (&ref.trigger_id, 1, 50);
  jobs_run (f, again);
  back = frames_said (f, "x1a");
  g_assert_cmpstr (back, ==, "1 Mira: Lesser mouse-deer | 51 Jau: Blank | 52 Ana: Banded civet");
  jobs_undo (f, FALSE);
  jobs_undo (f, FALSE);
  undone = dump (f);
  g_assert_cmpstr (undone, ==, before);
}

static guint
count_disagreeing (JobsFixture *f)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobFrames) job = NULL;
  g_autoptr (GArray) refs = NULL;

  query->disagreeing = TRUE;
  job = tpt_job_frames_new (query);
  jobs_run (f, job);
  refs = tpt_job_frames_steal_refs (job);
  return refs->len;
}

/* What is settled is not asked about again, until somebody speaks again or takes
 * back what counts. */
static void
test_settled (JobsFixture *f, gconstpointer data)
{
  TptFrameRef ref;
  g_autoptr (TptJobSettle) stand = NULL;
  g_autofree char *settled = NULL, *anew = NULL, *left = NULL, *last = NULL;

  FRAMES ("D1", "x", "2026-05-02T20:00:00");
  SAY ("x1a", DEER, .by = "Mira");
  SAY ("x1a", BLANK, .by = "Jau");
  ref = frames_ref (f, "x1a");
  g_assert_cmpuint (count_disagreeing (f), ==, 1);
  stand = tpt_job_settle_new (&ref.trigger_id, 1, 1); /* for what counts already */
  jobs_run (f, stand);
  settled = frames_said (f, "x1a");
  g_assert_cmpstr (settled, ==, "1 Mira: Lesser mouse-deer | 50 Jau: Blank");
  g_assert_cmpuint (count_disagreeing (f), ==, 0);
  SAY ("x1a", CIVET, .by = "Jau");
  anew = frames_said (f, "x1a");
  g_assert_cmpstr (anew, ==, "1 Mira: Lesser mouse-deer | 2 Jau: Banded civet");
  g_assert_cmpuint (count_disagreeing (f), ==, 1);
  SAY ("x1a", .type = NULL, .by = "Jau");
  SAY ("x1a", BLANK, .by = "Jau");
  g_clear_object (&stand);
  stand = tpt_job_settle_new (&ref.trigger_id, 1, 2);
  jobs_run (f, stand);
  left = frames_said (f, "x1a");
  g_assert_cmpstr (left, ==, "1 Jau: Blank | 50 Mira: Lesser mouse-deer");
  SAY ("x1a", .type = NULL, .by = "Jau");
  last = frames_said (f, "x1a");
  g_assert_cmpstr (last, ==, "1 Mira: Lesser mouse-deer");
}

static void
mark (JobsFixture *f, const gint64 *frames, guint n, gboolean on)
{
  g_autoptr (TptJobMark) job = tpt_job_mark_new (frames, n, "guests", on, "Mira");

  jobs_run (f, job);
}

static void
test_mark (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autofree char *none = NULL, *marked = NULL, *undone = NULL;
  gint64 frames[3];

  FRAMES ("D1", "x", "2026-05-02T20:00:00", "2026-05-03T20:00:00");
  frames[0] = frames_ref (f, "x1b").frame_id;
  frames[1] = frames_ref (f, "x2c").frame_id;
  frames[2] = 4711; /* there is none */
  none = dump (f);
  mark (f, frames, 3, TRUE);
  mark (f, frames, 1, TRUE); /* again: no action */
  mark (f, frames + 1, 1, FALSE);
  query->marked = TRUE;
  marked = frames_find (f, query, NULL);
  g_assert_cmpstr (marked, ==, "x1a");
  jobs_undo (f, FALSE);
  jobs_undo (f, FALSE);
  undone = dump (f);
  g_assert_cmpstr (undone, ==, none);
}

static gint64
regroup (JobsFixture *f, TptJobRegroup *job)
{
  g_autoptr (TptJobRegroup) owned = job;

  jobs_run (f, job);
  return tpt_job_regroup_get_trigger (job);
}

/* (transfer full): triggers with their frames: "x1a,x1b x1c". */
static char *
tell_groups (JobsFixture *f)
{
  g_autoptr (TptDb) db = tpt_db_open (f->path, TPT_DB_READ, NULL);

  return tpt_db_query_text (db,
                            "SELECT group_concat(one, ' ') FROM (SELECT (SELECT group_concat(frame) FROM (SELECT frame FROM frames"
                            " WHERE trigger_id = t.id ORDER BY at)) AS one FROM triggers t WHERE t.frames > 0 ORDER BY t.start_at)",
                            NULL);
}

/* Split, then joined again: what was said stays with the first part; the whole is as it was but for scores. */
static void
test_regroup (JobsFixture *f, gconstpointer data)
{
  g_autofree char *before = NULL, *split = NULL, *first = NULL, *later = NULL, *joined = NULL, *said = NULL, *undone = NULL;
  g_autofree char *ends = NULL;
  g_autoptr (TptDb) db = NULL;
  gint64 left;

  FRAMES ("D1", "x", "2026-05-02T20:00:00", "2026-05-03T20:00:00");
  SAY ("x1a", DEER, .count = 2, .by = "Mira");
  before = dump (f);
  left = regroup (f, tpt_job_regroup_new_split (frames_ref (f, "x1b").frame_id));
  split = tell_groups (f);
  g_assert_cmpstr (split, ==, "x1a x1b,x1c x2a,x2b,x2c");
  g_assert_cmpint (left, ==, frames_ref (f, "x1c").trigger_id);
  first = frames_said (f, "x1a");
  later = frames_said (f, "x1b");
  g_assert_cmpstr (first, ==, "1 Mira: 2 Lesser mouse-deer");
  g_assert_cmpstr (later, ==, "");
  db = tpt_db_open (f->path, TPT_DB_READ, NULL);
  ends = tpt_db_query_text (db, "SELECT end_at FROM observations", NULL);
  g_assert_cmpstr (ends, ==, "2026-05-02T12:00:00.000Z");
  jobs_assert_sound (f, FALSE);

  SAY ("x1b", DEER, .count = 3, .by = "Mira");
  SAY ("x1b", CIVET, .by = "Mira", .besides = TRUE);
  SAY ("x1b", BLANK, .by = "Jau");
  g_assert_cmpint (regroup (f, tpt_job_regroup_new_join (left)), ==, frames_ref (f, "x1a").trigger_id);
  joined = tell_groups (f);
  g_assert_cmpstr (joined, ==, "x1a,x1b,x1c x2a,x2b,x2c");
  g_assert_cmpint (ask (f, "SELECT count(*) FROM observations WHERE opinion = 1"), ==, 2);
  g_assert_cmpint (ask (f, "SELECT count FROM observations o JOIN species s ON s.id = o.species_id WHERE scientific_name = 'Tragulus kanchil'"), ==, 3);
  g_assert_cmpint (ask (f, "SELECT count(*) FROM observations WHERE end_at = '2026-05-02T12:00:02.000Z' AND start_at = '2026-05-02T12:00:00.000Z'"), ==, 3);
  jobs_assert_sound (f, FALSE);
  for (guint i = 0; i < 5; i++)
    jobs_undo (f, FALSE);
  undone = dump (f);
  g_assert_cmpstr (undone, ==, before);
  said = frames_said (f, "x1c");
  g_assert_cmpstr (said, ==, "1 Mira: 2 Lesser mouse-deer");
}

static void
test_regroup_refusals (JobsFixture *f, gconstpointer data)
{
  TptJobRegroup *jobs[4];

  FRAMES ("D1", "x", "2026-05-02T20:00:00", "2026-05-03T20:00:00");
  jobs[0] = tpt_job_regroup_new_split (frames_ref (f, "x1a").frame_id);
  jobs[1] = tpt_job_regroup_new_split (4711);
  jobs[2] = tpt_job_regroup_new_join (frames_ref (f, "x1a").trigger_id);
  jobs[3] = tpt_job_regroup_new_join (4711);
  for (gsize i = 0; i < G_N_ELEMENTS (jobs); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (tpt_project_run (f->project, TPT_JOB (jobs[i]), NULL, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      g_object_unref (jobs[i]);
    }
}

/* (transfer full): a table of as many triggers of one frame each. */
static void
put_many (JobsFixture *f, guint n)
{
  g_autoptr (GString) table = g_string_new ("frame,deployment,file,camera_time\n");

  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D9", "station", "RIDGE", "start", "2026-01-01", "frames_per_trigger", "1");
  for (guint i = 0; i < n; i++)
    {
      TptReading reading = { at ("2026-01-02T00:00:00Z") + i * 5 * TPT_MINUTE, TPT_NO_OFFSET };
      g_autofree char *time = tpt_reading_format (reading);

      g_string_append_printf (table, "m%u,D9,pictures/m%u.jpg,%s\n", i, i, time);
    }
  jobs_import (f, table->str);
}

static GArray *
find_triggers (JobsFixture *f)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobFrames) job = tpt_job_frames_new (query);
  g_autoptr (GArray) refs = NULL;
  GArray *triggers = g_array_new (FALSE, FALSE, sizeof (gint64));

  jobs_run (f, job);
  refs = tpt_job_frames_steal_refs (job);
  for (guint i = 0; i < refs->len; i++)
    g_array_append_val (triggers, g_array_index (refs, TptFrameRef, i).trigger_id);
  return triggers;
}

#define MANY 5000
#define AGAIN 200

/* As the main loop of a window would, between one key and the next. */
static void
hear_news (guint step)
{
  while (step % 50 == 0 && g_main_context_iteration (NULL, FALSE))
    ;
}

static void
undo_all (JobsFixture *f, guint n, gboolean redo)
{
  for (guint i = 0; i < n; i++)
    {
      jobs_undo (f, redo);
      hear_news (i);
    }
}

/* A long day, and all of it taken back. The bounds are wide of what was seen (260
 * bytes an entry, no growth): a machine under load is no reason to fail. */
static void
test_many (JobsFixture *f, gconstpointer data)
{
  static const TptDecision kinds[] = { { DEER, .count = 1, .certainty = NAN, .by = "Mira" }, { BLANK, .certainty = NAN, .by = "Mira" } };
  g_autofree char *before = NULL, *undone = NULL;
  g_autoptr (GArray) triggers = NULL;
  glong resident = 0;
  gint64 bytes, began;

  put_many (f, MANY);
  triggers = find_triggers (f);
  g_assert_cmpuint (triggers->len, ==, MANY);
  before = dump (f);
  bytes = ask (f, "SELECT sum(length(changeset) + length(what)) FROM journal");
  began = g_get_monotonic_time ();
  for (guint i = 0; i < MANY; i++)
    {
      g_autoptr (TptJobDecide) job = tpt_job_decide_new (&g_array_index (triggers, gint64, i), 1, &kinds[i % 2]);

      jobs_run (f, job);
      hear_news (i);
      if (i == MANY / 5)
        resident = frames_resident_kb ();
    }
  g_test_message ("%.1f ms a decision", (double) (g_get_monotonic_time () - began) / MANY / 1000);
  bytes = ask (f, "SELECT sum(length(changeset) + length(what)) FROM journal") - bytes;
  g_test_message ("%" G_GINT64_FORMAT " bytes of journal a decision, %ld KB of memory more", bytes / MANY, frames_resident_kb () - resident);
  g_assert_cmpint (bytes / MANY, <, 600);
  g_assert_cmpint (frames_resident_kb () - resident, <, 4096);

  began = g_get_monotonic_time ();
  undo_all (f, MANY, FALSE);
  g_test_message ("%.1f ms an undo, %ld KB of memory more", (double) (g_get_monotonic_time () - began) / MANY / 1000,
                  frames_resident_kb () - resident);
  g_assert_cmpint (frames_resident_kb () - resident, <, 4096);
  undone = dump (f);
  g_assert_true (g_str_equal (before, undone));
  undo_all (f, AGAIN, TRUE);
  g_assert_cmpint (ask (f, "SELECT count(*) FROM observations"), ==, AGAIN);
}

/* Ten thousand at once are one action; cancelled on the way they are none. */
static void
test_at_once (JobsFixture *f, gconstpointer data)
{
  static const TptDecision blank = { BLANK, .certainty = NAN, .by = "Mira" };
  g_autoptr (GArray) triggers = NULL;
  g_autoptr (TptJobDecide) job = NULL;
  g_autoptr (TptJobDecide) cancelled = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *before = NULL, *undone = NULL;
  gint64 began = 0;

  put_many (f, 10000);
  triggers = find_triggers (f);
  before = dump (f);
  g_cancellable_cancel (cancellable);
  cancelled = tpt_job_decide_new ((const gint64 *) (gpointer) triggers->data, triggers->len, &blank);
  g_assert_false (tpt_project_run (f->project, TPT_JOB (cancelled), cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpint (ask (f, "SELECT count(*) FROM observations"), ==, 0);

  job = tpt_job_decide_new ((const gint64 *) (gpointer) triggers->data, triggers->len, &blank);
  began = g_get_monotonic_time ();
  jobs_run (f, job);
  g_test_message ("10000 at once in %.2f s", (double) (g_get_monotonic_time () - began) / G_USEC_PER_SEC);
  g_assert_cmpint (tpt_job_decide_get_changed (job), ==, 10000);
  g_assert_cmpint (ask (f, "SELECT count(*) FROM observations WHERE type = 'blank'"), ==, 10000);
  jobs_undo (f, FALSE);
  undone = dump (f);
  g_assert_true (g_str_equal (before, undone));
}

/* The history names what was done. */
static void
test_history (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = NULL;
  g_autofree char *what = NULL;
  TptFrameRef refs[2];
  g_autoptr (TptJobDecide) two = NULL;

  FRAMES ("D1", "x", "2026-05-02T20:00:00", "2026-05-03T20:00:00");
  refs[0] = frames_ref (f, "x1a");
  refs[1] = frames_ref (f, "x2a");
  two = tpt_job_decide_new ((const gint64[]){ refs[0].trigger_id, refs[1].trigger_id, refs[0].trigger_id }, 3,
                            &(TptDecision){ DEER, .certainty = NAN });
  jobs_run (f, two);
  SAY ("x1a", BLANK);
  SAY ("x1a", .type = NULL);
  db = tpt_db_open (f->path, TPT_DB_READ, NULL);
  what = tpt_db_query_text (db, "SELECT group_concat(what, '; ') FROM (SELECT what FROM journal ORDER BY id DESC LIMIT 3)", NULL);
  g_assert_cmpstr (what, ==, "Take back what was said of 1 trigger; Name 1 trigger: blank; Name 2 triggers: Lesser mouse-deer");
}

int
main (int argc, char *argv[])
{
  g_setenv ("LC_ALL", "C.UTF-8", TRUE);
  /* Ten thousand commits: how fast a disk is told to keep them is not what is tested. */
  if (g_file_test ("/dev/shm", G_FILE_TEST_IS_DIR))
    g_setenv ("TMPDIR", "/dev/shm", TRUE);
  g_test_init (&argc, &argv, NULL);
#define ADD_FRAMES(name, function) g_test_add (name, JobsFixture, NULL, frames_set_up, function, jobs_tear_down)
  ADD_FRAMES ("/decide/rules", test_rules);
  ADD_FRAMES ("/decide/record", test_record);
  ADD_FRAMES ("/decide/refusals", test_refusals);
  ADD_FRAMES ("/decide/history", test_history);
  ADD_FRAMES ("/decide/settle", test_settle);
  ADD_FRAMES ("/decide/settled", test_settled);
  ADD_FRAMES ("/decide/mark", test_mark);
  ADD_FRAMES ("/decide/regroup", test_regroup);
  ADD_FRAMES ("/decide/regroup-refusals", test_regroup_refusals);
  ADD_FRAMES ("/decide/at-once", test_at_once);
  ADD_FRAMES ("/decide/many", test_many);
  return g_test_run ();
}
