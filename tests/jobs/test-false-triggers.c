#include "config.h"

#include "jobs-fixture.h"
#include "tpt-blanks-private.h"
#include "tpt-job-false-triggers.h"

/* Triggers and verdicts as "deployment:start-end", in tenths of a second;
 * a verdict ends in b for blank. What comes out: b, s for seen, u undecided. */
static void
test_decide (void)
{
  static const struct {
    const char *what;
    const char *firings, *verdicts;
    const char *fired;
  } cases[] = {
    { "nothing", "", "", "" },
    { "not looked at", "1:100-120", "", "1@100u" },
    { "blank", "1:100-120", "1:100-120b", "1@100b" },
    { "an animal", "1:100-120", "1:100-120", "1@100s" },
    { "an animal in one frame outdoes a blank", "1:100-120", "1:100-100b 1:112-112", "1@100s" },
    { "a blank after it does not take it back", "1:100-120", "1:100-100 1:112-112b", "1@100s" },
    { "noted to the second, within it", "1:104-104", "1:100-100b", "1@104b" },
    { "a whole second later", "1:110-110", "1:100-100b", "1@110u" },
    { "not noted to the second: to the moment", "1:105-105", "1:104-104b", "1@105u" },
    { "one event over several triggers", "1:100-110 1:200-210 1:300-310", "1:105-250", "1@100s 1@200s 1@300u" },
    { "each its own", "1:100-110 1:200-210 1:300-310", "1:100-110b 1:300-310", "1@100b 1@200u 1@300s" },
    { "another deployment's", "1:100-110", "2:100-110b", "1@100u 2@100b" },
    { "between the deployments", "1:100-110 3:100-110", "2:100-110b 3:105-105", "1@100u 2@100b 3@100s" },
    { "where nothing is on record each moment is one", "", "1:100-100b 1:200-200 1:200-200b 1:300-400b", "1@100b 1@200s 1@300b" },
    { "where triggers are on record, other moments are none", "1:100-110", "1:100-100b 1:900-900b", "1@100b" },
    { "ends before it starts", "1:100-110", "1:105-90b", "1@100b" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) firings = g_array_new (FALSE, FALSE, sizeof (TptFiring));
      g_autoptr (GArray) verdicts = g_array_new (FALSE, FALSE, sizeof (TptVerdict));
      g_autoptr (GArray) got = NULL;
      g_autoptr (GString) text = g_string_new (NULL);
      g_auto (GStrv) words = g_strsplit (cases[i].firings, " ", -1), said = g_strsplit (cases[i].verdicts, " ", -1);
      int deployment, start, end;
      char blank;

      for (guint w = 0; words[w] != NULL; w++)
        {
          TptFiring firing;

          g_assert_cmpint (sscanf (words[w], "%d:%d-%d", &deployment, &start, &end), ==, 3);
          firing = (TptFiring){ deployment, start * 100, end * 100 };
          g_array_append_val (firings, firing);
        }
      for (guint w = 0; said[w] != NULL; w++)
        {
          int n = sscanf (said[w], "%d:%d-%d%c", &deployment, &start, &end, &blank);
          TptVerdict verdict = { deployment, start * 100, end * 100, n == 4 };

          g_array_append_val (verdicts, verdict);
        }
      got = tpt_blanks_decide (firings, verdicts);
      for (guint g = 0; g < got->len; g++)
        {
          const TptFired *fired = &g_array_index (got, TptFired, g);

          g_string_append_printf (text, "%s%d@%d%c", g > 0 ? " " : "", (int) fired->deployment_id, (int) (fired->at / 100),
                                  "ubs"[fired->what]);
        }
      g_test_message ("%s", cases[i].what);
      g_assert_cmpstr (text->str, ==, cases[i].fired);
    }
}

/* "active-beam 2/5, ? 0/1": blank of decided ones. */
static char *
tell (GPtrArray *shares)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < shares->len; i++)
    {
      const TptBlankShare *share = shares->pdata[i];

      g_string_append_printf (text, "%s%s %d/%d", i > 0 ? ", " : "", share->code != NULL ? share->code : "?", (int) share->blank,
                              (int) share->triggers);
    }
  return g_string_free (text, FALSE);
}

/* Two stations, two deployments. At S1 a passive camera; a beam from 1 April,
 * taken out on 1 May, when the camera's own sensor is all there is. At S2 a
 * camera of which nothing is known. */
static void
set_up (JobsFixture *f, gconstpointer data)
{
  jobs_set_up (f, "UTC");
  jobs_import (f, "station,name\nS1,One\nS2,Two\nS3,Three\n");
  jobs_import (f, "unit,kind,sensor\nK1,camera,passive-infrared\nT1,trigger,active-beam\nT2,trigger,passive-infrared\nK2,camera,\n"
                  "P1,pack,\n");
  jobs_import (f, "deployment,station,start,end\nD1,S1,2025-03-01T00:00,\nD2,S2,2025-03-01T00:00,\n");
  jobs_import (f, "deployment,unit,from,to\nD1,K1,2025-03-01T00:00,\nD1,T1,2025-04-01T00:00,2025-05-01T00:00\n"
                  "D1,P1,2025-03-01T00:00,\nD2,K2,2025-03-01T00:00,\n");
  jobs_import (f, "frame,deployment,file,camera_time\n"
                  "F1,D1,a/1.jpg,2025-03-05T10:00:00\nF2,D1,a/2.jpg,2025-03-06T10:00:00\nF3,D1,a/3.jpg,2025-03-07T22:00:00\n"
                  "F4,D1,a/4.jpg,2025-04-05T10:00:00\nF5,D1,a/5.jpg,2025-04-06T10:00:00\nF6,D1,a/6.jpg,2025-05-01T00:00:00\n"
                  "F7,D1,a/7.jpg,2025-05-06T10:00:00\nF8,D2,b/1.jpg,2025-03-05T10:00:00\n");
  jobs_import (f, "observation,deployment,start,type\n"
                  "O1,D1,2025-03-05T10:00:00,blank\nO2,D1,2025-03-06T10:00:00,blank\nO3,D1,2025-03-07T22:00:00,animal\n"
                  "O4,D1,2025-04-05T10:00:00,blank\nO5,D1,2025-04-06T10:00:00,human\nO6,D1,2025-05-01T00:00:00,unknown\n"
                  "O7,D1,2025-05-06T10:00:00,unclassified\nO8,D2,2025-03-05T10:00:00,blank\n");
}

static void
test_tally (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *stations, *from, *to;
    int hour_from, hour_to;
    const char *all, *by_sensor, *by_station;
    int undecided;
  } cases[] = {
    { NULL, NULL, NULL, -1, -1, "4/7", "active-beam 1/2, passive-infrared 2/4, ? 1/1", "S1 3/6, S2 1/1", 1 },
    { "S1", NULL, NULL, -1, -1, "3/6", "active-beam 1/2, passive-infrared 2/4", "S1 3/6", 1 },
    { "S3", NULL, NULL, -1, -1, "0/0", "", "", 0 },
    { NULL, "2025-03-06T10:00:00Z", "2025-04-06T10:00:00Z", -1, -1, "2/3", "active-beam 1/1, passive-infrared 1/2", "S1 2/3", 0 },
    { NULL, NULL, NULL, 20 * 60, 6 * 60, "0/2", "passive-infrared 0/2", "S1 0/2", 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFalseTriggers) job = NULL;
      g_autofree char *all = NULL, *by_sensor = NULL, *by_station = NULL;
      const TptBlankShare *sum;

      filter->stations = cases[i].stations != NULL ? g_strsplit (cases[i].stations, ",", -1) : NULL;
      filter->range = (TptRange){ maybe_at (cases[i].from), maybe_at (cases[i].to) };
      filter->hour_from = cases[i].hour_from;
      filter->hour_to = cases[i].hour_to;
      job = tpt_job_false_triggers_new (filter);
      jobs_run (f, job);
      sum = tpt_job_false_triggers_get_all (job);
      all = g_strdup_printf ("%d/%d", (int) sum->blank, (int) sum->triggers);
      by_sensor = tell (tpt_job_false_triggers_get_sensors (job));
      by_station = tell (tpt_job_false_triggers_get_stations (job));
      g_assert_cmpstr (all, ==, cases[i].all);
      g_assert_cmpstr (by_sensor, ==, cases[i].by_sensor);
      g_assert_cmpstr (by_station, ==, cases[i].by_station);
      g_assert_cmpint (tpt_job_false_triggers_get_undecided (job), ==, cases[i].undecided);
    }
}

/* Two triggers of different kinds in one rig: nobody knows which one fired. */
static void
test_two_triggers (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptJobFalseTriggers) job = tpt_job_false_triggers_new (filter);
  g_autofree char *got = NULL;

  jobs_import (f, "deployment,unit,from,to\nD1,T2,2025-04-06T00:00,2025-04-07T00:00\n");
  jobs_run (f, job);
  got = tell (tpt_job_false_triggers_get_sensors (job));
  g_assert_cmpstr (got, ==, "active-beam 1/1, passive-infrared 2/4, ? 1/2");
}

/* The difference of 48 of 80 and 56 of 70: Newcombe 1998, Stat. Med. 17:873-890
 * (from memory), the first case of its table with the sign turned. */
static void
test_difference (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *unit;
    int blank, all;
  } rigs[] = { { "K1", 48, 80 }, { "T1", 56, 70 } };
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptJobFalseTriggers) job = tpt_job_false_triggers_new (filter);
  g_autoptr (GString) rows = g_string_new ("observation,deployment,start,type\n");
  const TptBlankDifference *got;

  jobs_import (f, "station,name\nS1,One\n");
  jobs_import (f, "unit,kind,sensor\nK1,camera,passive-infrared\nT1,trigger,active-beam\n");
  for (guint r = 0; r < G_N_ELEMENTS (rigs); r++)
    {
      g_autofree char *deployment = g_strdup_printf ("deployment,station,start,end\nD%u,S1,2025-0%u-01T00:00,2025-0%u-20T00:00\n", r, r + 1, r + 1);
      g_autofree char *fitting = g_strdup_printf ("deployment,unit,from,to\nD%u,%s,2025-0%u-01T00:00,\n", r, rigs[r].unit, r + 1);

      jobs_import (f, deployment);
      jobs_import (f, fitting);
      for (int i = 0; i < rigs[r].all; i++)
        g_string_append_printf (rows, "O%u-%d,D%u,2025-0%u-02T%02d:%02d,%s\n", r, i, r, r + 1, i / 60, i % 60,
                                i < rigs[r].blank ? "blank" : "animal");
    }
  jobs_import (f, rows->str);
  jobs_run (f, job);
  got = tpt_job_false_triggers_get_difference (job);
  g_assert_cmpfloat_with_epsilon (got->difference, -0.2, 1e-12);
  g_assert_cmpfloat_with_epsilon (got->low, -0.3338727, 6e-8);
  g_assert_cmpfloat_with_epsilon (got->high, -0.0524315, 6e-8);
}

/* Wilson 1927: 15 of 148, 0 of 20, 20 of 20, 1 of 29 as in R prop.test without
 * correction. */
static void
test_shares_in_words (void)
{
  static const struct {
    TptBlankShare share;
    double all;
    const char *words;
    gboolean high;
  } cases[] = {
    { { NULL, NULL, 148, 15, 0.1013514, 0.0623864, 0.1604872 }, 0.05, "15 of 148 decided triggers were blank: 10 % (6–16)", TRUE },
    { { NULL, NULL, 148, 15, 0.1013514, 0.0623864, 0.1604872 }, 0.0624, "15 of 148 decided triggers were blank: 10 % (6–16)", FALSE },
    { { NULL, NULL, 1, 1, 1, 0.2065493, 1 }, 0.5, "1 of 1 decided trigger was blank: 100 % (21–100)", FALSE },
    { { NULL, NULL, 0, 0, NAN, NAN, NAN }, 0.5, "No trigger has been decided yet", FALSE },
    { { NULL, NULL, 4200, 0, 0, 0, 0.0009 }, 0, "0 of 4,200 decided triggers were blank: 0 % (0–0)", FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptBlankShare all = { NULL, NULL, 1000, 0, cases[i].all, 0, 0 };
      g_autofree char *words = tpt_blank_share_describe (&cases[i].share);

      g_assert_cmpstr (words, ==, cases[i].words);
      g_assert_cmpint (tpt_blank_share_is_high (&cases[i].share, &all), ==, cases[i].high);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/false-triggers/decide", test_decide);
  g_test_add ("/false-triggers/tally", JobsFixture, NULL, set_up, test_tally, jobs_tear_down);
  g_test_add ("/false-triggers/two-triggers", JobsFixture, NULL, set_up, test_two_triggers, jobs_tear_down);
  ADD ("/false-triggers/difference", test_difference);
  g_test_add_func ("/false-triggers/shares-in-words", test_shares_in_words);
  return g_test_run ();
}
