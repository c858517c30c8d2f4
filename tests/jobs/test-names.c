#include "config.h"

#include "frames-fixture.h"

/* (transfer full): names with blanks between, by their first letters. */
static char *
tell (GPtrArray *names)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < names->len; i++)
    g_string_append_printf (text, "%s%.3s", i > 0 ? " " : "", ((TptName *) names->pdata[i])->species);
  return g_string_free (text, FALSE);
}

/* The bank sees deer by day and civets by night, the ridge otters only. */
static void
put_records (JobsFixture *f)
{
  jobs_import (f, "observation,deployment,start,type,scientific_name,opinion\n"
                  "O1,D1,2026-05-02T12:00,animal,Tragulus kanchil,\n"
                  "O2,D1,2026-05-03T12:30,animal,Tragulus kanchil,1\n"
                  "O3,D1,2026-05-03T23:30,animal,Hemigalus derbyanus,\n"
                  "O4,D2,2026-05-03T06:00,animal,Lutrogale perspicillata,\n"
                  "O5,D2,2026-05-04T06:00,animal,Lutrogale perspicillata,\n"
                  "O6,D2,2026-05-05T06:00,animal,Lutrogale perspicillata,\n"
                  "O7,D1,2026-05-06T23:30,animal,Lutrogale perspicillata,2\n"
                  "O8,D1,2026-05-06T12:00,blank,,\n");
}

static void
test_ranking (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *station;
    int minute;
    const char *order;
    gint64 here, at_station, project; /* of the first */
  } cases[] = {
    { NULL, -1, "Lut Tra Hem", 0, 0, 3 },
    { "OTTER", 12 * 60, "Tra Hem Lut", 2, 2, 2 },
    { "OTTER", 30, "Hem Tra Lut", 1, 1, 1 },             /* over midnight */
    { "OTTER", 21 * 60 + 29, "Tra Hem Lut", 0, 2, 2 },   /* two hours and a minute before */
    { "OTTER", 21 * 60 + 30, "Hem Tra Lut", 1, 1, 1 },   /* two hours */
    { "RIDGE", 6 * 60, "Lut Tra Hem", 3, 3, 3 },
    { "RIDGE", -1, "Lut Tra Hem", 3, 3, 3 },
  };

  put_records (f);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobNames) job = tpt_job_names_new (cases[i].station, cases[i].minute, "en");
      g_autofree char *order = NULL;
      const TptName *first;

      jobs_run (f, job);
      order = tell (tpt_job_names_get_names (job));
      first = tpt_job_names_get_names (job)->pdata[0];
      g_test_message ("%s at minute %d", cases[i].station, cases[i].minute);
      g_assert_cmpstr (order, ==, cases[i].order);
      g_assert_cmpint (first->here, ==, cases[i].here);
      g_assert_cmpint (first->station, ==, cases[i].at_station);
      g_assert_cmpint (first->project, ==, cases[i].project);
    }
}

static void
test_language (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *language;
    const char *deer, *civet, *otter;
  } cases[] = {
    { "en", "Lesser mouse-deer", "Banded civet", "Smooth-coated otter" },
    { "es", "Ciervo ratón menor", "Banded civet", "Nutria lisa" }, /* English where there is none */
    { "ms", "Pelanduk", "Musang belang", "Smooth-coated otter" },
    { "xx", "Lesser mouse-deer", "Banded civet", "Smooth-coated otter" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobNames) job = tpt_job_names_new (NULL, -1, cases[i].language);

      jobs_run (f, job);
      for (guint k = 0; k < 3; k++)
        {
          const TptName *name = tpt_job_names_get_names (job)->pdata[k];

          g_assert_cmpstr (name->common, ==, name->species[0] == 'T'   ? cases[i].deer
                                             : name->species[0] == 'H' ? cases[i].civet
                                                                       : cases[i].otter);
        }
    }
}

static void
test_search (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *typed;
    const char *found; /* in the order of the ranking, which has the otter first */
  } cases[] = {
    { "", "Lut Tra Hem" },
    { "   ", "Lut Tra Hem" },
    { "mouse", "Tra" },
    { "MOUSE deer", "Tra" },
    { "deer mouse", "Tra" },
    { "ouse", "" },             /* not the beginning of a word */
    { "raton", "Tra" },         /* without its accent */
    { "RATÓN", "Tra" },
    { "rato\xcc\x81n", "Tra" }, /* the accent as a mark of its own */
    { "pelan", "Tra" },
    { "trag kan", "Tra" },
    { "pelanduk tragulus", "Tra" }, /* words of different names */
    { "m", "Tra Hem" },
    { "b", "Hem" },
    { "smooth-co", "Lut" },
    { "zebra", "" },
    { "mouse zebra", "" },
    { "%", "Lut Tra Hem" }, /* no letter, no digit: nothing was asked */
  };
  g_autoptr (TptJobNames) job = tpt_job_names_new (NULL, -1, "en");

  put_records (f);
  jobs_run (f, job);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) names = tpt_names_search (tpt_job_names_get_names (job), cases[i].typed);
      g_autofree char *found = tell (names);

      g_test_message ("“%s”", cases[i].typed);
      g_assert_cmpstr (found, ==, cases[i].found);
    }
}

int
main (int argc, char *argv[])
{
  g_setenv ("LC_ALL", "C.UTF-8", TRUE);
  g_test_init (&argc, &argv, NULL);
#define ADD_FRAMES(name, function) g_test_add (name, JobsFixture, NULL, frames_set_up, function, jobs_tear_down)
  ADD_FRAMES ("/names/ranking", test_ranking);
  ADD_FRAMES ("/names/language", test_language);
  ADD_FRAMES ("/names/search", test_search);
  return g_test_run ();
}
