#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-months.h"

#define NEAR(got, want) g_assert_cmpfloat_with_epsilon (got, want, 1e-9)

/* Two stations; everything lies in the past. */
static void
set_up_valley (JobsFixture *f)
{
  jobs_import (f, "station,name\nS1,One\nS2,Two\n");
  jobs_import (f, "scientific_name,common_en\nSus scrofa,Wild boar\nLynx lynx,Eurasian lynx\nAlces alces,Elk\n");
}

static void
add_records (JobsFixture *f, const char *deployment, const char *species, const char *const *at)
{
  static guint number;
  g_autoptr (GString) text = g_string_new ("observation,deployment,start,type,scientific_name,count\n");

  for (guint i = 0; at[i] != NULL; i++)
    g_string_append_printf (text, "O%u,%s,%s,animal,%s,2\n", ++number, deployment, at[i], species);
  jobs_import (f, text->str);
}

/* @n records an hour and more apart, from @first on. */
static void
add_many (JobsFixture *f, const char *deployment, const char *species, const char *first, gint64 every, guint n)
{
  g_autoptr (GPtrArray) times = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < n; i++)
    g_ptr_array_add (times, tpt_instant_format (at (first) + i * every, NULL));
  g_ptr_array_add (times, NULL);
  add_records (f, deployment, species, (const char *const *) times->pdata);
}

static TptFilter *
filter_of (const char *species, const char *station, const char *from, const char *to)
{
  TptFilter *filter = tpt_filter_new ();

  filter->species = species != NULL ? g_strsplit (species, ",", -1) : NULL;
  filter->stations = station != NULL ? g_strsplit (station, ",", -1) : NULL;
  filter->range = (TptRange){ maybe_at (from), maybe_at (to) };
  return filter;
}

static TptJobMonths *
run_months (JobsFixture *f, TptFilter *filter, TptFilter *other)
{
  g_autoptr (TptFilter) first = filter, second = other;
  TptJobMonths *job = tpt_job_months_new (first);

  if (second != NULL)
    tpt_job_months_compare (job, second);
  jobs_run (f, job);
  return job;
}

/* By hand: March has 31 days less an hour, and a record before the camera was set up has a month too. */
static void
test_months (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *name;
    double nights;
    gint64 detections;
  } want[] = { { "2024-02", 0, 1 }, { "2024-03", 22 - 1.0 / 24, 2 }, { "2024-04", 30, 0 }, { "2024-05", 1, 1 } };
  g_autoptr (TptJobMonths) job = NULL;
  GArray *months;

  set_up_valley (f);
  jobs_import (f, "deployment,station,start,end\nD1,S1,2024-03-10T00:00:00+02:00,2024-05-02T00:00:00+03:00\n");
  add_records (f, "D1", "Sus scrofa",
               (const char *const[]){ "2024-02-29T23:00:00+02:00", "2024-03-11T05:00:00+02:00", "2024-03-31T23:50:00+03:00",
                                      "2024-04-01T00:10:00+03:00", "2024-05-01T00:00:00+03:00", NULL });
  job = run_months (f, filter_of ("wild boar", NULL, NULL, NULL), NULL);
  months = tpt_job_months_get (job, 0);
  g_assert_cmpuint (months->len, ==, G_N_ELEMENTS (want));
  for (guint i = 0; i < months->len; i++)
    {
      const TptMonthRate *month = &g_array_index (months, TptMonthRate, i);

      g_assert_cmpstr (month->name, ==, want[i].name);
      NEAR (month->rate.nights, want[i].nights);
      g_assert_cmpint (month->rate.detections, ==, want[i].detections);
      g_assert_cmpint (month->rate.individuals, ==, 2 * want[i].detections);
      g_assert_cmpint (isnan (month->rate.per_100), ==, want[i].nights == 0);
    }
  g_assert_cmpint (tpt_job_months_get_rate (job, 0)->detections, ==, 4);
  g_assert_null (tpt_job_months_get (job, 1));
  g_assert_null (tpt_job_months_get_ratio (job));
}

/* Months are cut by the period asked about, also where it begins within one. */
static void
test_period (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobMonths) job = NULL;
  const TptMonthRate *month;

  set_up_valley (f);
  jobs_import (f, "deployment,station,start,end\nD1,S1,2024-01-01T00:00:00Z,2024-12-01T00:00:00Z\n");
  job = run_months (f, filter_of (NULL, NULL, "2024-06-11T00:00:00+03:00", "2024-07-05T00:00:00+03:00"), NULL);
  g_assert_cmpuint (tpt_job_months_get (job, 0)->len, ==, 2);
  month = &g_array_index (tpt_job_months_get (job, 0), TptMonthRate, 0);
  NEAR (month->rate.nights, 20);
  g_assert_cmpint (month->when.from, ==, at ("2024-06-11T00:00:00+03:00"));
  g_assert_cmpint (month->when.to, ==, at ("2024-07-01T00:00:00+03:00"));
  month = &g_array_index (tpt_job_months_get (job, 0), TptMonthRate, 1);
  NEAR (month->rate.nights, 4);
  g_assert_cmpint (month->when.to, ==, at ("2024-07-05T00:00:00+03:00"));
}

/* CHECKS C2: 11 in 800 against 23 in 3011 nights, the other way round. */
static void
test_ratio (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobMonths) job = NULL;
  const TptRateRatio *ratio;

  set_up_valley (f);
  jobs_import (f, "deployment,station,start,end\nD1,S1,2012-01-01T00:00:00Z,2014-03-11T00:00:00Z\n"
                  "D2,S2,2012-01-01T00:00:00Z,2020-03-30T00:00:00Z\n");
  add_many (f, "D1", "Sus scrofa", "2012-01-02T00:00:00Z", 20 * TPT_DAY, 11);
  add_many (f, "D2", "Sus scrofa", "2012-01-02T00:00:00Z", 20 * TPT_DAY, 23);
  job = run_months (f, filter_of (NULL, "S1", NULL, NULL), filter_of (NULL, "S2", NULL, NULL));
  ratio = tpt_job_months_get_ratio (job);
  NEAR (tpt_job_months_get_rate (job, 0)->nights, 800);
  NEAR (tpt_job_months_get_rate (job, 1)->nights, 3011);
  NEAR (ratio->ratio, 1 / 1.80005434783);
  NEAR (ratio->low, 1 / 3.84386274039);
  NEAR (ratio->high, 1 / 0.792205085833);
  NEAR (ratio->p, 0.136634447064);
  g_assert_cmpstr (tpt_job_months_get_sentence (job), ==,
                   "All species, Two: seen 0.56 times as often as One, but the interval holds 1 (0.26 to 1.26; p = 0.14), so the two may be equal.");
}

/* What is said of two of 30, 3 and no detections in 100 nights; numbers from R 4.2, poisson.test (c (30, 3), c (100, 100)) and its like. */
static void
test_said (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species[2], *station[2], *said;
  } cases[] = {
    { { "Sus scrofa", "Lynx lynx" }, { "S1", "S1" }, "Eurasian lynx: seen 0.10 times as often as Wild boar (0.02 to 0.32; p < 0.001)." },
    { { "Lynx lynx", "Sus scrofa" }, { "S1", "S1" }, "Wild boar: seen 10.0 times as often as Eurasian lynx (3.11 to 51.2; p < 0.001)." },
    { { "Sus scrofa", "Alces alces" }, { "S1", "S1" }, "Elk: not seen; at most 0.13 times as often as Wild boar (p < 0.001)." },
    { { "Alces alces", "Sus scrofa" }, { "S1", "S1" }, "Elk: not seen. Wild boar: seen at least 7.64 times as often (p < 0.001)." },
    { { "Sus scrofa", "Sus scrofa" }, { "S1", "S2" }, "Wild boar, One and Two cannot be compared: no station worked for one of them." },
    { { "Alces alces", "Alces alces" }, { "S1", "S1,S2" }, "Elk, One and 2 stations: neither was seen, so they cannot be compared." },
  };

  set_up_valley (f);
  jobs_import (f, "deployment,station,start,end\nD1,S1,2024-01-01T00:00:00Z,2024-04-10T00:00:00Z\n");
  add_many (f, "D1", "Sus scrofa", "2024-01-02T00:00:00Z", TPT_DAY, 30);
  add_many (f, "D1", "Lynx lynx", "2024-01-02T00:00:00Z", TPT_DAY, 3);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobMonths) job =
        run_months (f, filter_of (cases[i].species[0], cases[i].station[0], NULL, NULL),
                    filter_of (cases[i].species[1], cases[i].station[1], NULL, NULL));

      g_assert_cmpstr (tpt_job_months_get_sentence (job), ==, cases[i].said);
    }
}

/* The first cell of a column in each row of a series. */
static char *
read_months (TptFigure *figure, const char *series, const char *wanted)
{
  g_autoptr (TptFigureTable) table = tpt_figure_table (figure);
  GString *found = g_string_new (NULL);
  guint column = 0;

  while (!g_str_equal (tpt_figure_table_get_column (table, column), wanted))
    column++;
  for (guint i = 0; i < tpt_figure_table_get_n_rows (table); i++)
    if (g_str_equal (tpt_figure_table_get_cell (table, i, 0), series))
      g_string_append_printf (found, "%.7s ", tpt_figure_table_get_cell (table, i, column));
  return g_string_free (found, FALSE);
}

/* Two summers lie over each other; the table and what a hit tells keep the true months. */
static void
test_laid_over (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobMonths) job = NULL, both = NULL;
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  TptInstant first = TPT_NO_INSTANT, last = TPT_NO_INSTANT;
  g_autofree char *table = NULL;
  gboolean told = FALSE;

  set_up_valley (f);
  jobs_import (f, "deployment,station,start,end\nD1,S1,2023-01-01T00:00:00Z,2025-01-01T00:00:00Z\n");
  job = run_months (f, filter_of (NULL, NULL, "2023-05-01T00:00:00+03:00", "2023-08-01T00:00:00+03:00"),
                    filter_of (NULL, NULL, "2024-05-01T00:00:00+03:00", "2024-08-01T00:00:00+03:00"));
  /* the axis holds three months, although the data go over fifteen */
  tpt_figure_value_at (tpt_job_months_get_figure (job), 0, 640, 320, &style, &first);
  tpt_figure_value_at (tpt_job_months_get_figure (job), 640, 640, 320, &style, &last);
  g_assert_cmpint (first, ==, at ("2023-05-01T00:00:00+03:00"));
  g_assert_cmpint (last, ==, at ("2023-08-01T00:00:00+03:00"));
  table = read_months (tpt_job_months_get_figure (job), "1 May 2024 to 31 July 2024", "from");
  g_assert_cmpstr (table, ==, "2024-05 2024-06 2024-07 ");
  for (double x = 0; x < 640; x += 4)
    for (double y = 0; y < 320; y += 4)
      {
        g_auto (TptHit) hit = TPT_HIT_INIT;

        if (tpt_figure_hit (tpt_job_months_get_figure (job), x, y, 640, 320, &style, &hit) && hit.kind == TPT_HIT_MONTH && hit.row == 1)
          told |= hit.when.from == at ("2024-06-01T00:00:00+03:00");
      }
  g_assert_true (told);

  /* periods that share time lie side by side where they are */
  both = run_months (f, filter_of (NULL, NULL, "2023-05-01T00:00:00+03:00", "2023-08-01T00:00:00+03:00"),
                     filter_of (NULL, NULL, "2023-07-01T00:00:00+03:00", "2023-10-01T00:00:00+03:00"));
  tpt_figure_value_at (tpt_job_months_get_figure (both), 640, 640, 320, &style, &last);
  g_assert_cmpint (last, ==, at ("2023-10-01T00:00:00+03:00"));
}

/* A trend is told, or why there is none; the rate halves twice. */
static void
test_trend (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species, *station, *from, *to, *said;
  } cases[] = {
    { "Sus scrofa", NULL, "2020-01-01T00:00:00+02:00", "2020-08-01T00:00:00+03:00", "A trend needs 12 months with effort; there are 7." },
    { "Sus scrofa", NULL, "2020-01-01T00:00:00+02:00", "2021-07-01T00:00:00+03:00",
      "A trend cannot be told from the season in less than 24 months; the record covers 18." },
    { "Alces alces", NULL, NULL, NULL, "Without a detection there is no trend; 10 are needed." },
    { "Lynx lynx", NULL, NULL, NULL, "A trend needs 10 detections; there are 3." },
    { "Sus scrofa", "S2", NULL, NULL, "no station worked in this period" },
    { "Sus scrofa", NULL, NULL, NULL, "The rate fell, each year to 0.5" },
    { "Sus scrofa,Lynx lynx", NULL, "2021-01-01T00:00:00+02:00", "2022-12-31T00:00:00+02:00", "The rate fell" },
  };

  set_up_valley (f);
  jobs_import (f, "deployment,station,start,end\nD1,S1,2020-01-01T00:00:00+02:00,2023-01-01T00:00:00+02:00\n");
  add_many (f, "D1", "Sus scrofa", "2020-01-02T00:00:00Z", 2 * TPT_DAY, 180);
  add_many (f, "D1", "Sus scrofa", "2021-01-02T00:00:00Z", 4 * TPT_DAY, 90);
  add_many (f, "D1", "Sus scrofa", "2022-01-02T00:00:00Z", 8 * TPT_DAY, 45);
  add_many (f, "D1", "Lynx lynx", "2020-02-02T00:00:00Z", 90 * TPT_DAY, 3);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobMonths) job = run_months (f, filter_of (cases[i].species, cases[i].station, cases[i].from, cases[i].to), NULL);
      const TptTrend *trend = tpt_job_months_get_trend (job, 0);

      if (strstr (tpt_job_months_get_sentence (job), cases[i].said) == NULL)
        g_error ("%s\nholds no\n%s", tpt_job_months_get_sentence (job), cases[i].said);
      g_assert_cmpint (trend->why_not == NULL, ==, !isnan (trend->per_year));
      g_assert_true (trend->why_not != NULL || (trend->high < 1 && trend->p < 0.05));
    }
}

/* No effort, no record: a figure all the same. */
static void
test_nothing (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobMonths) job = run_months (f, filter_of (NULL, NULL, NULL, NULL), filter_of (NULL, NULL, NULL, NULL));
  g_autofree char *described = tpt_figure_describe (tpt_job_months_get_figure (job));

  g_assert_cmpuint (tpt_job_months_get (job, 0)->len, ==, 0);
  g_assert_true (isnan (tpt_job_months_get_ratio (job)->ratio));
  g_assert_cmpuint (strlen (described), >, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add ("/jobs/months/months", JobsFixture, "Europe/Bucharest", jobs_set_up, test_months, jobs_tear_down);
  g_test_add ("/jobs/months/period", JobsFixture, "Europe/Bucharest", jobs_set_up, test_period, jobs_tear_down);
  ADD ("/jobs/months/ratio", test_ratio);
  ADD ("/jobs/months/said", test_said);
  g_test_add ("/jobs/months/laid-over", JobsFixture, "Europe/Bucharest", jobs_set_up, test_laid_over, jobs_tear_down);
  g_test_add ("/jobs/months/trend", JobsFixture, "Europe/Bucharest", jobs_set_up, test_trend, jobs_tear_down);
  ADD ("/jobs/months/nothing", test_nothing);
  return g_test_run ();
}
