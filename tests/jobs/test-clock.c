/* The clock of a card as it is taken in, and put another way afterwards. The
 * instants were worked out by hand. */
#include "config.h"

#include "card-fixture.h"
#include "tpt-job-clock.h"
#include "tpt-job-intake.h"
#include "tpt-job-survey.h"
#include "tpt-records.h"
#include "tpt-store.h"

/* Right but an hour and 12 s slow from the start, then fallen back to 2015; read at both ends. */
static const char *const dates[] = { "2026-05-02T10:00:00", "2026-05-02T10:00:02", "2026-05-05T08:00:00", "2015-01-01T00:00:00",
                                     "2015-01-01T00:00:02", NULL };

static char *
make_card (JobsFixture *f)
{
  tpt_exif_init ();
  PUT (TPT_TABLE_STATIONS, "station", "OAK");
  PUT (TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "OAK", "start", "2026-05-01T10:00", "end", "2026-06-01T10:00");
  PUT (TPT_TABLE_VISITS, "visit", "V1", "station", "OAK", "at", "2026-05-01T10:00", "camera_clock", "2026-05-01T08:59:48",
       "true_clock", "2026-05-01T10:00:00");
  PUT (TPT_TABLE_VISITS, "visit", "V2", "station", "OAK", "at", "2026-06-01T10:00", "camera_clock", "2015-01-02T01:00:00",
       "true_clock", "2026-06-01T10:00:00");
  return card_write (f, "CARD", dates, NULL);
}

/* (transfer full): everything a clock bears on, row by row. */
static char *
dump (JobsFixture *f)
{
  static const char *const tables[] = {
    "SELECT group_concat(id || ' ' || quote(at) || quote(camera_time) || quote(place) || quote(kind) || quote(temperature_c) || quote(flash)"
    " || quote(trigger_id), x'0a') FROM frames",
    "SELECT group_concat(id || ' ' || quote(start_at) || quote(end_at) || quote(frames), x'0a') FROM triggers",
    "SELECT group_concat(id || ' ' || quote(start_at) || quote(end_at) || quote(trigger_id), x'0a') FROM observations",
    "SELECT group_concat(id || ' ' || quote(clock_read) || quote(clock_true) || quote(clock_offset_s) || quote(first_at)"
    " || quote(last_at) || quote(camera_model), x'0a') FROM batches",
    "SELECT group_concat(id || ' ' || quote(first_place) || quote(frames) || quote(why) || quote(anchor) || quote(shift_s)"
    " || quote(drift_s_per_day), x'0a') FROM clock_pieces",
  };
  g_autoptr (TptStore) store = tpt_store_open (f->path, TRUE, NULL);
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *rows = tpt_db_query_text (tpt_store_get_db (store), tables[i], &error);

      g_assert_no_error (error);
      g_string_append_printf (text, "%s\n\n", rows != NULL ? rows : "");
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
read_text (JobsFixture *f, const char *sql)
{
  g_autoptr (TptStore) store = tpt_store_open (f->path, TRUE, NULL);
  g_autoptr (GError) error = NULL;
  char *text = tpt_db_query_text (tpt_store_get_db (store), sql, &error);

  g_assert_no_error (error);
  return text;
}

#define TIMES "SELECT group_concat(substr(at, 1, 19), ' ') FROM (SELECT at FROM frames ORDER BY place)"
#define BARE "2026-05-02T02:00:00 2026-05-02T02:00:02 2026-05-05T00:00:00 2014-12-31T16:00:00 2014-12-31T16:00:02"
#define RULE "2026-05-02T02:00:12 2026-05-02T02:00:14 2026-05-05T00:00:12 2014-12-31T16:00:00 2014-12-31T16:00:02"
#define HOUR "2026-05-02T03:00:00 2026-05-02T03:00:02 2026-05-05T01:00:00 2014-12-31T16:00:00 2014-12-31T16:00:02"
/* read at 2015-01-02 01:00 on 1 June 10:00: a day and an hour after the reset */
#define RESET "2026-05-02T02:00:00 2026-05-02T02:00:02 2026-05-05T00:00:00 2026-05-31T01:00:00 2026-05-31T01:00:02"
#define ALL "2026-05-02T03:00:12 2026-05-02T03:00:14 2026-05-05T01:00:12 2026-05-31T01:00:00 2026-05-31T01:00:02"

typedef struct {
  const char *name;
  const char *ids[4];
  gboolean as_rule, repair;
  const char *times;
  guint done;
} Chosen;

static const Chosen choices[] = {
  { "as a rule: the constant part only", { NULL }, TRUE, FALSE, RULE, 1 },
  { "nothing", { NULL }, FALSE, FALSE, BARE, 0 },
  { "the hour", { "hour" }, FALSE, FALSE, HOUR, 1 },
  { "the reset", { "reset" }, FALSE, FALSE, RESET, 1 },
  { "all that is proposed", { NULL }, FALSE, TRUE, ALL, 3 },
};

static TptJobIntake *
take_in (JobsFixture *f, const char *card, const Chosen *choice)
{
  TptJobIntake *job = tpt_job_intake_new ("D1", card);

  if (!choice->as_rule && !choice->repair)
    tpt_job_intake_set_steps (job, choice->ids);
  tpt_job_intake_set_repair (job, choice->repair);
  jobs_run (f, job);
  return job;
}

/* At intake, and again on what is on record, to the same times. */
static void
test_choices (JobsFixture *unused, gconstpointer data)
{
  for (gsize i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptJobIntake) job = NULL;
      g_autofree char *card = NULL;
      g_autofree char *times = NULL;

      g_test_message ("%s", choices[i].name);
      jobs_set_up (f, "Asia/Kuching");
      card = make_card (f);
      job = take_in (f, card, &choices[i]);
      times = read_text (f, TIMES);
      g_assert_cmpstr (times, ==, choices[i].times);
      g_assert_cmpuint (tpt_job_intake_get_steps (job)->len, ==, choices[i].done);
      jobs_assert_sound (f, TRUE);

      for (gsize k = 1; k < G_N_ELEMENTS (choices); k++)
        {
          g_autoptr (TptJobClock) clock = choices[k].repair ? tpt_job_clock_new_repair ("D1-B01") : tpt_job_clock_new ("D1-B01", choices[k].ids);
          g_autoptr (TptJobClock) look = tpt_job_clock_new_look ("D1-B01");
          g_autofree char *after = NULL;

          jobs_run (f, clock);
          after = read_text (f, TIMES);
          g_assert_cmpstr (after, ==, choices[k].times);
          jobs_run (f, look);
          g_assert_cmpuint (tpt_job_clock_get_steps (look)->len, ==, 3);
          g_assert_cmpint (tpt_job_clock_get_first (look), ==, tpt_job_clock_get_first (clock));
          g_assert_cmpstr (tpt_job_clock_get_done (look)[0], ==, choices[k].done > 0 ? tpt_job_clock_get_done (clock)[choices[k].repair ? 1 : 0] : NULL);
          jobs_assert_sound (f, TRUE);
        }
      jobs_tear_down (f, NULL);
    }
}

/* What was said of a trigger goes with it, and undo puts every row back. */
static void
test_undo (JobsFixture *f, gconstpointer data)
{
  g_autofree char *card = make_card (f);
  g_autoptr (TptJobIntake) intake = take_in (f, card, &choices[1]);
  g_autoptr (TptJobClock) clock = tpt_job_clock_new_repair ("D1-B01");
  g_autofree char *empty = NULL, *before = NULL, *after = NULL, *again = NULL, *redone = NULL, *start = NULL;

  {
    g_autoptr (TptStore) store = tpt_store_open (f->path, FALSE, NULL);
    g_autoptr (TptAction) action = tpt_action_begin (store, "say", NULL);
    g_autoptr (GError) error = NULL;

    tpt_db_exec (tpt_store_get_db (store),
                 "INSERT INTO observations (uuid, observation, deployment_id, trigger_id, start_at, end_at, type) SELECT 'u', 'O1',"
                 " deployment_id, id, start_at, end_at, 'blank' FROM triggers WHERE start_at LIKE '2014%' LIMIT 1", &error);
    g_assert_no_error (error);
    g_assert_true (tpt_action_commit (action, &error));
  }
  before = dump (f);
  jobs_run (f, clock);
  g_assert_cmpint (tpt_job_clock_get_changed (clock), ==, 5);
  after = dump (f);
  g_assert_cmpstr (before, !=, after);
  start = read_text (f, "SELECT start_at || ' ' || end_at FROM observations");
  g_assert_cmpstr (start, ==, "2026-05-31T01:00:00.000Z 2026-05-31T01:00:02.000Z");
  jobs_undo (f, FALSE);
  again = dump (f);
  g_assert_cmpstr (again, ==, before);
  jobs_undo (f, TRUE);
  redone = dump (f);
  g_assert_cmpstr (redone, ==, after);
  jobs_assert_sound (f, TRUE);
}

/* An intake that is taken back takes its pieces along, and brings them again. */
static void
test_undo_intake (JobsFixture *f, gconstpointer data)
{
  static const char pieces[] = "SELECT group_concat(first_place || '+' || frames || ' ' || why || ' ' || round(shift_s), ', ') FROM clock_pieces";
  g_autofree char *card = make_card (f);
  g_autoptr (TptJobIntake) intake = take_in (f, card, &choices[4]);
  g_autofree char *there = read_text (f, pieces), *gone = NULL, *again = NULL;

  /* 11 years, 150 days and 9 hours: from 2014-12-31 16:00 to 2026-05-31 01:00 */
  g_assert_cmpstr (there, ==, "1+3 hour offset 3612.0, 4+2 reset 360147600.0");
  jobs_undo (f, FALSE);
  gone = read_text (f, pieces);
  g_assert_null (gone);
  jobs_undo (f, TRUE);
  again = read_text (f, pieces);
  g_assert_cmpstr (again, ==, there);
  jobs_assert_sound (f, TRUE);
}

static void
test_refused (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *batch;
    const char *ids[2];
    int code;
  } rows[] = {
    { "D1-B09", { "offset" }, TPT_ERROR_DATA },
    { "D1-B01", { "reset-2" }, TPT_ERROR_USAGE },
  };
  g_autofree char *card = make_card (f);
  g_autoptr (TptJobIntake) intake = take_in (f, card, &choices[0]);
  g_autofree char *before = dump (f);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (TptJobClock) job = tpt_job_clock_new (rows[i].batch, rows[i].ids);
      g_autoptr (GError) error = NULL;
      g_autofree char *after = NULL;

      g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
      g_assert_error (error, TPT_ERROR, rows[i].code);
      after = dump (f);
      g_assert_cmpstr (after, ==, before);
    }
}

/* With a step of the writing failing, nothing has changed. */
static void
test_faults (JobsFixture *f, gconstpointer data)
{
  g_autofree char *card = make_card (f);
  g_autoptr (TptJobIntake) intake = take_in (f, card, &choices[0]);
  g_autofree char *before = dump (f);
  guint failed = 0;

  for (int n = 1; n < 200; n++)
    {
      g_autoptr (TptJobClock) job = tpt_job_clock_new_repair ("D1-B01");
      g_autoptr (GError) error = NULL;
      g_autofree char *after = NULL;
      gboolean good;

      tpt_fault_arm (n);
      good = tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
      tpt_fault_arm (0);
      if (good)
        break;
      failed++;
      after = dump (f);
      g_assert_cmpstr (after, ==, before);
    }
  g_assert_cmpuint (failed, >, 0);
  jobs_assert_sound (f, TRUE);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/clock/choices", test_choices);
  ADD ("/clock/undo", test_undo);
  ADD ("/clock/undo-intake", test_undo_intake);
  ADD ("/clock/refused", test_refused);
  ADD ("/clock/faults", test_faults);
  return g_test_run ();
}
