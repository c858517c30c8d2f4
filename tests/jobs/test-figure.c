#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-figure.h"

/* Names and numbers that must be found nowhere in a figure for guests. */
static const char *const secrets[] = {
  "OAK", "Hidden oak", "ASH", "Ash ford", "50.12345", "10.54321", "50.1234", "10.5432", "50.123", "10.543", "50.27777", "50.278", "10.68888", "10.689",
};

static void
set_up (JobsFixture *f, gconstpointer data)
{
  jobs_set_up (f, "Europe/Berlin");
  jobs_import (f, "station,name,latitude,longitude\nOAK,Hidden oak,50.12345,10.54321\nASH,Ash ford,50.27777,10.68888\n");
  jobs_import (f, "deployment,station,start,end\nD1,OAK,2024-05-01T00:00Z,2024-06-01T00:00Z\nD2,ASH,2024-05-01T00:00Z,2024-05-11T00:00Z\n");
  jobs_import (f, "scientific_name,sensitivity,common_en\nAlces alces,extreme,Elk\nLynx lynx,high,Eurasian lynx\nMeles meles,medium,Badger\n"
                  "Vulpes vulpes,low,Red fox\n");
  jobs_import (f, "observation,deployment,start,type,scientific_name\nO1,D1,2024-05-02T03:00Z,animal,Lynx lynx\n"
                  "O2,D1,2024-05-03T03:00Z,animal,Vulpes vulpes\nO3,D2,2024-05-04T03:00Z,animal,Alces alces\n"
                  "O4,D2,2024-05-05T03:00Z,animal,Meles meles\n");
}

typedef struct {
  char *svg; /* (owned) */
  char *csv; /* (owned) */
} Texts;

static void
clear_texts (Texts *texts)
{
  g_free (texts->svg);
  g_free (texts->csv);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Texts, clear_texts)

static void
make_beside (JobsFixture *f, const char *kind, const char *species, const char *other, gboolean exact, Texts *texts)
{
  g_autoptr (TptFilter) filter = tpt_filter_new (), beside = tpt_filter_new ();
  g_autofree char *path = jobs_path (f, "figure.svg");
  g_autoptr (TptJobFigure) job = NULL;
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

  style.framed = TRUE;
  filter->species = species != NULL ? g_strsplit (species, ",", -1) : NULL;
  job = tpt_job_figure_new (kind, filter, exact);
  if (other != NULL)
    {
      beside->species = g_strsplit (other, ",", -1);
      tpt_job_figure_compare (job, beside);
    }
  tpt_job_figure_write_to (job, path, &size, &style);
  jobs_run (f, job);
  texts->svg = jobs_read (path);
  texts->csv = jobs_read (tpt_job_figure_get_csv_path (job));
}

static void
make (JobsFixture *f, const char *kind, const char *species, gboolean exact, Texts *texts)
{
  make_beside (f, kind, species, NULL, exact, texts);
}

/* Every number with a decimal point in a text that could be a place here; the
 * grid allows @decimals. */
static void
assert_coarse (const char *csv, int decimals)
{
  g_autoptr (GRegex) regex = g_regex_new ("(?<![0-9.])(50|10)\\.([0-9]+)", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  for (g_regex_match (regex, csv, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *digits = g_match_info_fetch (match, 2);
      g_assert_cmpuint (strlen (digits), <=, (guint) decimals);
    }
}

static void
test_secrets (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *kind;
    const char *species; /* NULL: all */
    int decimals;        /* Chapman 2020: extreme 1 degree, high 0.1, medium 0.01, low 0.001 */
  } cases[] = {
    { "map", NULL, 1 }, /* without the elk */
    { "map", "Vulpes vulpes", 2 }, /* the project's own floor, 0.01 */
    { "map", "Red fox,Eurasian lynx", 1 },
    { "map", "Meles meles", 2 },
    { "map", "Alces alces", 0 }, /* asked for by name: a district */
    { "strip", NULL, 0 },
    { "strip", "Lynx lynx", 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Texts) texts = { NULL, NULL };

      make (f, cases[i].kind, cases[i].species, FALSE, &texts);
      g_test_message ("%s of %s\n%s", cases[i].kind, cases[i].species, texts.csv);
      for (gsize s = 0; s < G_N_ELEMENTS (secrets); s++)
        {
          g_assert_null (strstr (texts.csv, secrets[s]));
          g_assert_null (strstr (texts.svg, secrets[s]));
        }
      if (g_str_equal (cases[i].kind, "map"))
        assert_coarse (texts.csv, cases[i].decimals);
      g_assert_null (strstr (texts.svg, "Exact places"));
      g_assert_true (g_str_has_prefix (texts.svg, "<?xml"));
    }
}

/* What a guest cannot be shown cannot change what is shown: another name, or
 * another place within the same cell, and not a byte differs. */
static void
test_hidden (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *what;
    const char *table;
    const char *kind;
    const char *species;
    gboolean same;
  } cases[] = {
    { "a name", "station,name\nOAK,Elsewhere\n", "map", NULL, TRUE },
    { "a name", "station,name\nOAK,Elsewhere again\n", "strip", NULL, TRUE },
    { "a note", "station,notes,access\nOAK,by the ford,from the north\n", "map", NULL, TRUE },
    { "a step in a tenth of a degree", "station,latitude,longitude\nOAK,50.16111,10.51222\n", "map", NULL, TRUE },
    { "a step in a hundredth", "station,latitude,longitude\nOAK,50.16999,10.51999\n", "map", "Meles meles", TRUE },
    { "another hundredth", "station,latitude,longitude\nOAK,50.18,10.54\n", "map", "Meles meles", FALSE },
    { "another tenth", "station,latitude,longitude\nOAK,50.31,10.54\n", "map", NULL, FALSE },
    { "both", "station,latitude,longitude\nOAK,50.35,10.58\nASH,50.21,10.61\n", "map", NULL, TRUE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Texts) before = { NULL, NULL }, after = { NULL, NULL };

      make (f, cases[i].kind, cases[i].species, FALSE, &before);
      jobs_import (f, cases[i].table);
      make (f, cases[i].kind, cases[i].species, FALSE, &after);
      g_test_message ("%s: %s", cases[i].what, cases[i].table);
      g_assert_cmpint (g_str_equal (before.svg, after.svg), ==, cases[i].same);
      g_assert_cmpint (g_str_equal (before.csv, after.csv), ==, cases[i].same);
    }
}

/* The column of detections in a map's table, added up. */
static int
sum_detections (const char *csv)
{
  g_auto (GStrv) lines = g_strsplit (csv, "\n", -1);
  g_auto (GStrv) names = g_strsplit (g_strstrip (lines[0]), ",", -1);
  guint column = 0;
  int sum = 0;

  while (names[column] != NULL && !g_str_equal (names[column], "detections"))
    column++;
  g_assert_nonnull (names[column]);
  for (guint i = 1; lines[i] != NULL && *lines[i] != '\0'; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], ",", -1);
      sum += atoi (cells[column]);
    }
  return sum;
}

/* A map of all leaves out the most sensitive and says so; named, it is shown. */
static void
test_extreme (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species;
    gboolean exact;
    int detections;
    const char *says;
  } cases[] = {
    { NULL, FALSE, 3, "All species but the most sensitive" },
    { NULL, TRUE, 4, "All species" },
    { "Elk", FALSE, 1, "Elk" },
    { "Elk,Red fox", FALSE, 2, "Elk" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Texts) texts = { NULL, NULL };

      make (f, "map", cases[i].species, cases[i].exact, &texts);
      g_test_message ("%s", cases[i].species);
      g_assert_nonnull (strstr (texts.svg, cases[i].says));
      g_assert_cmpint (strstr (texts.svg, "but the most sensitive") != NULL, ==, i == 0);
      g_assert_cmpint (sum_detections (texts.csv), ==, cases[i].detections);
    }
}

/* Exact places are a choice, and the figure names it. */
static void
test_exact (JobsFixture *f, gconstpointer data)
{
  g_auto (Texts) map = { NULL, NULL }, coarse = { NULL, NULL }, strip = { NULL, NULL };
  g_autofree char *lower = NULL;

  make (f, "map", NULL, TRUE, &map);
  make (f, "map", NULL, FALSE, &coarse);
  make (f, "strip", NULL, TRUE, &strip);
  g_assert_nonnull (strstr (map.csv, "50.12345"));
  lower = g_ascii_strdown (map.svg, -1);
  g_assert_nonnull (strstr (lower, "exact"));
  g_assert_nonnull (strstr (strip.svg, "Hidden oak"));
  g_assert_nonnull (strstr (strip.csv, "Hidden oak"));
  g_assert_cmpstr (map.csv, !=, coarse.csv);
}

/* Rigs at work: what is due is due there. */
static void
set_out (JobsFixture *f)
{
  jobs_import (f, "unit,kind,label,chemistry,cells_series,cell_mah,sleep_ma\nK1,camera,Camera at Hidden oak,alkaline,4,2000,2\n");
  jobs_import (f, "deployment,station,start\nD3,OAK,2025-05-01T00:00Z\nD4,ASH,2025-05-01T00:00Z\n");
  jobs_import (f, "deployment,unit,from\nD3,K1,2025-05-01T00:00Z\n");
}

/* What is due, without and with names; what limits goes by its kind. The
 * camera sleeps 41.7 days, by hand, so it is out in June. */
static void
test_due (JobsFixture *f, gconstpointer data)
{
  static const struct {
    gboolean exact;
    const char *station, *limiting, *says;
  } cases[] = {
    { FALSE, "\r\nStation 2,", ",camera,", "Stations by number." },
    { TRUE, "\r\nHidden oak,", ",Camera at Hidden oak,", "Exact: stations by name." },
  };

  set_out (f);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Texts) texts = { NULL, NULL };

      make (f, "due", NULL, cases[i].exact, &texts);
      for (gsize n = 0; n < G_N_ELEMENTS (secrets) && !cases[i].exact; n++)
        {
          g_assert_null (strstr (texts.csv, secrets[n]));
          g_assert_null (strstr (texts.svg, secrets[n]));
        }
      g_test_message ("%s", texts.csv);
      g_assert_nonnull (strstr (texts.csv, cases[i].station));
      g_assert_nonnull (strstr (texts.csv, cases[i].limiting));
      g_assert_nonnull (strstr (texts.svg, cases[i].says));
    }
}

/* A filter that would do nothing is refused. */
static void
test_due_filter (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *station, *species;
    int hour;
    int code; /* of TPT_ERROR; -1: fine */
  } cases[] = {
    { "OAK", NULL, -1, -1 }, { "NONE", NULL, -1, TPT_ERROR_DATA }, { NULL, "Lynx lynx", -1, TPT_ERROR_USAGE }, { NULL, NULL, 60, TPT_ERROR_USAGE },
  };

  set_out (f);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFigure) job = NULL;
      g_autoptr (GError) error = NULL;

      filter->stations = cases[i].station != NULL ? g_strsplit (cases[i].station, ",", -1) : NULL;
      filter->species = cases[i].species != NULL ? g_strsplit (cases[i].species, ",", -1) : NULL;
      filter->hour_from = filter->hour_to = cases[i].hour;
      job = tpt_job_figure_new ("due", filter, TRUE);
      tpt_job_figure_set_moments (job, at ("2025-06-01T00:00Z"), at ("2025-06-20T00:00Z"));
      g_assert_cmpint (tpt_project_run (f->project, TPT_JOB (job), NULL, &error), ==, cases[i].code < 0);
      if (cases[i].code >= 0)
        g_assert_error (error, TPT_ERROR, cases[i].code);
      else
        {
          g_autofree char *words = tpt_figure_describe (tpt_job_figure_get_figure (job));

          g_assert_nonnull (strstr (words, "What is due at 1 station. Next round: 20 June 2025."));
          g_assert_null (strstr (words, "Ash ford"));
        }
    }
}

/* A station's own sensitivity coarsens every map it is on. */
static void
test_station (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *sensitivity; /* of ASH */
    int decimals;
  } cases[] = { { "none", 2 }, { "low", 2 }, { "medium", 2 }, { "high", 1 }, { "extreme", 0 } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Texts) texts = { NULL, NULL };
      g_autofree char *table = g_strdup_printf ("station,sensitivity\nASH,%s\n", cases[i].sensitivity);

      jobs_import (f, table);
      make (f, "map", "Vulpes vulpes", FALSE, &texts);
      g_test_message ("%s\n%s", cases[i].sensitivity, texts.csv);
      assert_coarse (texts.csv, cases[i].decimals);
      g_assert_null (strstr (texts.svg, "10.689"));
    }
}

/* Made twice, the same bytes; a wrong wish leaves what was there. */
static void
test_files (JobsFixture *f, gconstpointer data)
{
  static const char *const kinds[] = { "map", "strip", "due" };
  static const struct {
    const char *kind;
    const char *name;
  } wrong[] = { { "pie", "a.svg" }, { "map", "a.bmp" }, { "map", "no-such-folder/a.svg" } };

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_auto (Texts) first = { NULL, NULL }, second = { NULL, NULL };

      make (f, kinds[i], NULL, FALSE, &first);
      make (f, kinds[i], NULL, FALSE, &second);
      g_assert_cmpstr (first.svg, ==, second.svg);
      g_assert_cmpstr (first.csv, ==, second.csv);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobFigure) job = tpt_job_figure_new (wrong[i].kind, filter, FALSE);
      g_autofree char *path = jobs_path (f, wrong[i].name), *csv = jobs_path (f, "a.csv");
      TptFigureSize size = TPT_FIGURE_SIZE_INIT;
      TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
      g_autoptr (GError) error = NULL;

      tpt_job_figure_write_to (job, path, &size, &style);
      g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
      g_assert_error (error, TPT_ERROR, (i < 2 ? TPT_ERROR_USAGE : TPT_ERROR_IO));
      g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
      g_assert_false (g_file_test (csv, G_FILE_TEST_EXISTS));
    }
}

/* Two species beside each other, which the map and the others leave at the first; still without secrets. */
static void
test_beside (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *kind;
    gboolean both;
  } cases[] = { { "strip", TRUE }, { "hours", TRUE }, { "months", TRUE }, { "map", FALSE }, { "matrix", FALSE } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Texts) texts = { NULL, NULL };

      g_test_message ("%s", cases[i].kind);
      make_beside (f, cases[i].kind, "Vulpes vulpes", "Lynx lynx", FALSE, &texts);
      g_assert_nonnull (strstr (texts.svg, "Red fox"));
      g_assert_cmpint (strstr (texts.svg, "Eurasian lynx") != NULL, ==, cases[i].both);
      g_assert_cmpint (strstr (texts.csv, "Eurasian lynx") != NULL, ==, cases[i].both);
      for (gsize k = 0; k < G_N_ELEMENTS (secrets); k++)
        {
          g_assert_null (strstr (texts.svg, secrets[k]));
          g_assert_null (strstr (texts.csv, secrets[k]));
        }
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD_FILLED(name, function) g_test_add (name, JobsFixture, NULL, set_up, function, jobs_tear_down)
  ADD_FILLED ("/figure/secrets", test_secrets);
  ADD_FILLED ("/figure/hidden", test_hidden);
  ADD_FILLED ("/figure/extreme", test_extreme);
  ADD_FILLED ("/figure/exact", test_exact);
  ADD_FILLED ("/figure/beside", test_beside);
  ADD_FILLED ("/figure/due", test_due);
  ADD_FILLED ("/figure/due-filter", test_due_filter);
  ADD_FILLED ("/figure/station", test_station);
  ADD_FILLED ("/figure/files", test_files);
  return g_test_run ();
}
