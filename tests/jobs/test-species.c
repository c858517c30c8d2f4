#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-species.h"

static TptJobSpecies *
read_species (JobsFixture *f)
{
  TptJobSpecies *job = tpt_job_species_new ();
  GError *error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  return job;
}

static void
import_rows (JobsFixture *f, const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (f->folder, name, NULL);
  const char *const paths[] = { path, NULL };
  g_autoptr (TptJobImport) job = tpt_job_import_new (paths, FALSE, FALSE);
  GError *error = NULL;

  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (tpt_job_import_get_n_lost (job), ==, 0);
}

static void
test_entries (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobSpecies) job = NULL;
  GPtrArray *entries;
  static const struct {
    const char *scientific, *title;
    gint64 seen;
  } wanted[] = {
    { "Martes martes", "Martes martes", 0 }, /* without a name it goes by the scientific one */
    { "Vulpes vulpes", "Red fox", 2 },       /* a second opinion is an observation too: the row must stay */
    { "Capreolus capreolus", "Roe deer", 1 },
  };

  import_rows (f, "species.csv", "scientific_name,common_en,common_de\nVulpes vulpes,Red fox,Rotfuchs\n"
                                 "Capreolus capreolus,Roe deer,\nMartes martes,,\n");
  import_rows (f, "stations.csv", "station\nS1\n");
  import_rows (f, "deployments.csv", "deployment,station,start\nD1,S1,2026-01-01\n");
  import_rows (f, "observations.csv", "observation,deployment,start,type,scientific_name,opinion\n"
                                      "O1,D1,2026-01-02,animal,Vulpes vulpes,1\nO2,D1,2026-01-02,animal,Vulpes vulpes,2\n"
                                      "O3,D1,2026-01-03,animal,Capreolus capreolus,\n");
  job = read_species (f);
  entries = tpt_job_species_get_entries (job);
  g_assert_cmpuint (entries->len, ==, G_N_ELEMENTS (wanted));
  for (guint i = 0; i < entries->len; i++)
    {
      const TptSpeciesEntry *entry = entries->pdata[i];

      g_assert_cmpstr (tpt_record_get_code (entry->record), ==, wanted[i].scientific);
      g_assert_cmpstr (entry->title, ==, wanted[i].title);
      g_assert_cmpint (entry->seen, ==, wanted[i].seen);
    }
}

/* Where the starter list is offered. Corners of the island from a map, from memory. */
static void
test_region (void)
{
  static const struct {
    const char *zone, *stations;
    gboolean fits;
  } cases[] = {
    { "Asia/Kuching", NULL, TRUE },                                             /* by its time, before a station stands */
    { "Europe/Berlin", NULL, FALSE },
    { "Asia/Kuching", "station,latitude,longitude\nS1,,\n", TRUE },             /* no position yet */
    { "Europe/Berlin", "station,latitude,longitude\nS1,2.4,113.0\n", TRUE },    /* the place counts, not the time */
    { "Asia/Kuching", "station,latitude,longitude\nS1,47.5,11.2\n", FALSE },
    { "Asia/Kuching", "station,latitude,longitude\nS1,3.1,101.7\n", FALSE },    /* across the sea */
    { "Asia/Makassar", "station,latitude,longitude\nS1,-3.4,115.5\nS2,-3.3,115.4\n", TRUE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture f;
      g_autoptr (TptJobSpecies) job = NULL;
      g_autoptr (TptJobStarter) starter = tpt_job_starter_new ();
      g_autoptr (GError) error = NULL;

      jobs_set_up (&f, cases[i].zone);
      if (cases[i].stations != NULL)
        import_rows (&f, "stations.csv", cases[i].stations);
      job = read_species (&f);
      g_assert_cmpint (tpt_job_species_get_starters (job) > 0, ==, cases[i].fits);
      g_assert_cmpint (tpt_project_run (f.project, TPT_JOB (starter), NULL, &error), ==, cases[i].fits);
      if (!cases[i].fits)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_USAGE);
      jobs_tear_down (&f, NULL);
    }
}

/* It adds what is missing, leaves what is there, and is one step to undo. */
static void
test_starter (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobStarter) starter = tpt_job_starter_new (), again = tpt_job_starter_new ();
  g_autoptr (TptJobUndo) undo = tpt_job_undo_new (FALSE);
  g_autoptr (TptJobSpecies) before = NULL, after = NULL, last = NULL;
  GError *error = NULL;
  guint missing;
  gboolean met = FALSE;

  import_rows (f, "species.csv", "scientific_name,sensitivity,common_en\nHelarctos malayanus,low,Honey bear\nVulpes vulpes,,Red fox\n");
  before = read_species (f);
  missing = tpt_job_species_get_starters (before);
  tpt_project_run (f->project, TPT_JOB (starter), NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (tpt_job_starter_get_added (starter), ==, missing);
  after = read_species (f);
  g_assert_cmpuint (tpt_job_species_get_entries (after)->len, ==, missing + 2);
  g_assert_cmpuint (tpt_job_species_get_starters (after), ==, 0);
  for (guint i = 0; i < missing + 2; i++)
    {
      const TptSpeciesEntry *entry = tpt_job_species_get_entries (after)->pdata[i];

      g_assert_true (tpt_record_check (entry->record, NULL, NULL));
      if (!g_str_equal (tpt_record_get_code (entry->record), "Helarctos malayanus"))
        continue;
      met = TRUE;
      g_assert_cmpstr (entry->title, ==, "Honey bear");
      g_assert_cmpstr (tpt_record_get_text (entry->record, "sensitivity"), ==, "low");
    }
  g_assert_true (met);
  tpt_project_run (f->project, TPT_JOB (again), NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (tpt_job_starter_get_added (again), ==, 0);
  tpt_project_run (f->project, TPT_JOB (undo), NULL, &error);
  g_assert_no_error (error);
  last = read_species (f);
  g_assert_cmpuint (tpt_job_species_get_entries (last)->len, ==, 2);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add ("/species/entries", JobsFixture, NULL, jobs_set_up, test_entries, jobs_tear_down);
  g_test_add_func ("/species/region", test_region);
  g_test_add ("/species/starter", JobsFixture, NULL, jobs_set_up, test_starter, jobs_tear_down);
  return g_test_run ();
}
