#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-matrix.h"

/* Three stations, the last of which did not work; an elk of extreme sensitivity. */
static void
set_up (JobsFixture *f)
{
  jobs_import (f, "station,name,latitude,longitude\nASH,Ash ford,50.27777,10.68888\nOAK,Hidden oak,50.12345,10.54321\nYEW,Yew gate,,\n");
  jobs_import (f, "deployment,station,start,end\nD1,OAK,2024-05-01T00:00Z,2024-06-01T00:00Z\nD2,ASH,2024-05-01T00:00Z,2024-05-11T00:00Z\n");
  jobs_import (f, "scientific_name,sensitivity,common_en\nAlces alces,extreme,Elk\nLynx lynx,high,Eurasian lynx\nMeles meles,,Badger\n"
                  "Vulpes vulpes,,Red fox\n");
  jobs_import (f, "observation,deployment,start,type,scientific_name\nO1,D1,2024-05-02T03:00Z,animal,Vulpes vulpes\n"
                  "O2,D1,2024-05-03T03:00Z,animal,Vulpes vulpes\nO3,D2,2024-05-04T03:00Z,animal,Alces alces\n"
                  "O4,D2,2024-05-05T03:00Z,animal,Lynx lynx\nO5,D2,2024-05-06T03:00Z,animal,Vulpes vulpes\n"
                  "O6,D1,2024-05-06T03:00Z,animal,Alces alces\n");
}

static TptJobMatrix *
make_job (const char *species, gboolean discreet)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  TptJobMatrix *job;

  filter->species = species != NULL ? g_strsplit (species, ",", -1) : NULL;
  job = tpt_job_matrix_new (filter, TPT_MATRIX_COUNT);
  tpt_job_matrix_set_discreet (job, discreet);
  return job;
}

/* Species, station and detections of each row of its table. */
static void
test_cells (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species;
    gboolean discreet;
    const char *cells;
  } cases[] = {
    { NULL, FALSE,
      "Red fox,Ash ford,1; Red fox,Hidden oak,2; Elk,Ash ford,1; Elk,Hidden oak,1; Eurasian lynx,Ash ford,1; Eurasian lynx,Hidden oak,0; " },
    { NULL, TRUE, "Red fox,Station 1,1; Red fox,Station 2,2; Eurasian lynx,Station 1,1; Eurasian lynx,Station 2,0; " },
    { "elk", FALSE, "Elk,Ash ford,1; Elk,Hidden oak,1; " },
    { "badger,lynx lynx", TRUE, "Eurasian lynx,Station 1,1; Eurasian lynx,Station 2,0; Badger,Station 1,0; Badger,Station 2,0; " },
  };

  set_up (f);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobMatrix) job = make_job (cases[i].species, cases[i].discreet);
      g_autoptr (TptFigureTable) table = NULL;
      g_autoptr (GString) cells = g_string_new (NULL);
      g_autofree char *said = NULL;

      jobs_run (f, job);
      table = tpt_figure_table (tpt_job_matrix_get_figure (job));
      for (guint row = 0; row < tpt_figure_table_get_n_rows (table); row++)
        if (*tpt_figure_table_get_cell (table, row, 2) != '\0')
          g_string_append_printf (cells, "%s,%s,%s; ", tpt_figure_table_get_cell (table, row, 0),
                                  tpt_figure_table_get_cell (table, row, 1), tpt_figure_table_get_cell (table, row, 2));
      g_assert_cmpstr (cells->str, ==, cases[i].cells);
      said = tpt_figure_describe (tpt_job_matrix_get_figure (job));
      g_assert_cmpint (strstr (said, "left out") != NULL, ==, cases[i].discreet && cases[i].species == NULL);
    }
}

/* The species at the most stations: a record from where no camera worked in the period does not make it all that did. */
static void
test_said (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species, *said;
  } cases[] = {
    { NULL, "Red fox turned up at all 2 stations that worked." },
    { "lynx lynx", "Eurasian lynx turned up at the most stations: at 1 of the 2 that worked." },
    { "lynx lynx,badger", "Eurasian lynx turned up at the most stations: at 1 of the 2 that worked." },
  };

  set_up (f);
  jobs_import (f, "deployment,station,start,end\nD3,YEW,2024-07-01T00:00Z,2024-07-02T00:00Z\n");
  jobs_import (f, "observation,deployment,start,type,scientific_name\nO7,D3,2024-05-04T03:00Z,animal,Lynx lynx\n"
                  "O8,D3,2024-05-04T03:00Z,animal,Meles meles\n");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFilter) filter = tpt_filter_new ();
      g_autoptr (TptJobMatrix) job = NULL;
      g_autofree char *said = NULL;

      filter->species = cases[i].species != NULL ? g_strsplit (cases[i].species, ",", -1) : NULL;
      filter->range.to = at ("2024-06-15T00:00Z");
      job = tpt_job_matrix_new (filter, TPT_MATRIX_COUNT);
      jobs_run (f, job);
      said = tpt_figure_describe (tpt_job_matrix_get_figure (job));
      if (strstr (said, cases[i].said) == NULL)
        g_error ("%s\nholds no\n%s", said, cases[i].said);
    }
}

/* Rows by what was seen, but those asked for on top. */
static void
test_first (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *first, *order; /* scientific names; of the first column's cells */
  } cases[] = {
    { NULL, "Red fox Eurasian lynx Badger" },
    { "Meles meles", "Badger Red fox Eurasian lynx" },
    { "Eurasian lynx,badger", "Eurasian lynx Badger Red fox" },
    { "Unicorn", "Red fox Eurasian lynx Badger" },
  };

  set_up (f);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (GStrv) first = cases[i].first != NULL ? g_strsplit (cases[i].first, ",", -1) : NULL;
      g_autoptr (TptJobMatrix) job = make_job ("Vulpes vulpes,Lynx lynx,Meles meles", FALSE);
      g_autoptr (TptFigureTable) table = NULL;
      g_autoptr (GString) order = g_string_new (NULL);
      const char *last = NULL;

      if (first != NULL)
        tpt_job_matrix_put_first (job, (const char *const *) first);
      jobs_run (f, job);
      table = tpt_figure_table (tpt_job_matrix_get_figure (job));
      for (guint row = 0; row < tpt_figure_table_get_n_rows (table); row++)
        {
          const char *species = tpt_figure_table_get_cell (table, row, 0);

          if (g_strcmp0 (species, last) != 0)
            g_string_append_printf (order, "%s%s", order->len > 0 ? " " : "", species);
          last = species;
        }
      g_assert_cmpstr (order->str, ==, cases[i].order);
    }
}

/* Keys lead to the pictures, and are not there for others. */
static void
test_keys (JobsFixture *f, gconstpointer data)
{
  set_up (f);
  for (int discreet = 0; discreet < 2; discreet++)
    {
      g_autoptr (TptJobMatrix) job = make_job (NULL, discreet);
      TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
      guint keys = 0;

      jobs_run (f, job);
      for (double x = 0; x < 640; x += 8)
        for (double y = 0; y < 320; y += 8)
          {
            g_auto (TptHit) hit = TPT_HIT_INIT;

            if (!tpt_figure_hit (tpt_job_matrix_get_figure (job), x, y, 640, 320, &style, &hit) || hit.kind != TPT_HIT_CELL || hit.row != 0)
              continue;
            g_assert_cmpstr (hit.key, ==, "Vulpes vulpes");
            keys += g_strcmp0 (hit.item_key, "OAK") == 0 || g_strcmp0 (hit.item_key, "ASH") == 0;
          }
      g_assert_cmpint (keys > 0, ==, !discreet);
    }
}

/* A matrix with its only row left out would seem to say that nothing was seen. */
static void
test_refused (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *species;
    int code;
  } cases[] = { { "Alces alces", TPT_ERROR_USAGE }, { "Sus scrofa", TPT_ERROR_DATA } };

  set_up (f);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobMatrix) job = make_job (cases[i].species, TRUE);
      g_autoptr (GError) error = NULL;

      g_assert_false (tpt_project_run (f->project, TPT_JOB (job), NULL, &error));
      g_assert_error (error, TPT_ERROR, cases[i].code);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/jobs/matrix/cells", test_cells);
  ADD ("/jobs/matrix/said", test_said);
  ADD ("/jobs/matrix/first", test_first);
  ADD ("/jobs/matrix/keys", test_keys);
  ADD ("/jobs/matrix/refused", test_refused);
  return g_test_run ();
}
