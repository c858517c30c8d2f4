/* Jobs where a mistake would lose somebody's data or give a place away.
 * Common practice, no source, unless said beside the check. */
#include <glib/gstdio.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-job-edit.h"
#include "tpt-job-figure.h"
#include "tpt-job-import.h"
#include "tpt-job-lookup.h"
#include "tpt-job-undo.h"
#include "tpt-project.h"

typedef struct {
  char *folder; /* (owned) */
  TptProject *project;
} Fixture;

static const char stations_csv[] = "station,name,latitude,longitude\nOAK,Old oak,50.12345,10.54321\nASH,Ash,50.2,10.6\n";
static const char deployments_csv[] = "deployment,station,start,end\nD1,OAK,2024-05-01T00:00Z,2024-06-01T00:00Z\n";
static const char frames_csv[] = "frame,deployment,file,camera_time\nF1,D1,a.jpg,2024-05-02T03:00:00\n";
static const char species_csv[] = "scientific_name,sensitivity,common_en,common_es\nLynx lynx,high,Eurasian lynx,Lince boreal\n"
                                  "Vulpes vulpes,low,Red fox,Zorro rojo\nMeles meles,low,Badger,Tejón\n";
static const char observations_csv[] = "observation,deployment,start,type,scientific_name\n"
                                       "O1,D1,2024-05-02T03:00Z,animal,Lynx lynx\nO2,D1,2024-05-03T03:00Z,animal,Vulpes vulpes\n";

static char *
path_in (Fixture *f, const char *name)
{
  return g_build_filename (f->folder, name, NULL);
}

static void
run (Fixture *f, gpointer job)
{
  g_autoptr (GError) error = NULL;

  tpt_project_run (f->project, job, NULL, &error);
  g_assert_no_error (error);
}

static gint64
import (Fixture *f, const char *text)
{
  g_autofree char *path = path_in (f, "table.csv");
  const char *paths[] = { path, NULL };
  g_autoptr (TptJobImport) job = tpt_job_import_new (paths, FALSE, FALSE);
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
  run (f, job);
  g_assert_cmpuint (tpt_job_import_get_n_refused (job), ==, 0);
  return tpt_job_import_get_added (job);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;

  f->folder = g_dir_make_tmp ("jobs-XXXXXX", NULL);
  path = path_in (f, "valley.gpkg");
  f->project = tpt_project_create (path, "Valley", "Europe/Berlin", &error);
  g_assert_no_error (error);
  import (f, stations_csv);
  import (f, deployments_csv);
  import (f, species_csv);
  import (f, observations_csv);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  static const char *const names[] = { "valley.gpkg", "table.csv", "map.svg", "map.csv" };

  g_clear_object (&f->project);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = path_in (f, names[i]);
      g_remove (path);
    }
  g_rmdir (f->folder);
  g_free (f->folder);
}

/* Taken back, the same table can be brought in again. */
static void
test_import_again (Fixture *f, gconstpointer data)
{
  g_autoptr (TptJobUndo) undo = tpt_job_undo_new (FALSE);

  g_assert_cmpint (import (f, frames_csv), ==, 1);
  g_assert_cmpint (import (f, frames_csv), ==, 0);
  run (f, undo);
  g_assert_cmpint (import (f, frames_csv), ==, 1);
}

static TptRecord *
find_station (Fixture *f, const char *code)
{
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (TPT_TABLE_STATIONS, "station", code);

  run (f, job);
  return g_list_model_get_item (tpt_job_lookup_get_records (job), 0);
}

/* A new record never takes the place of one that is there; an edited one does. */
static void
test_new_keeps_old (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *code;
    gboolean edit;
    gboolean refused;
    const char *name; /* of OAK afterwards */
  } cases[] = {
    { "OAK", FALSE, TRUE, "Old oak" },
    { "ELM", FALSE, FALSE, "Old oak" },
    { "OAK", TRUE, FALSE, "Another" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) record = cases[i].edit ? find_station (f, cases[i].code) : tpt_record_new (TPT_TABLE_STATIONS);
      g_autoptr (TptJobEdit) job = tpt_job_edit_new ("Save");
      g_autoptr (TptRecord) oak = NULL;
      g_autoptr (GError) error = NULL;
      const char *column = NULL;

      tpt_record_set_text (record, "station", cases[i].code);
      tpt_record_set_text (record, "name", "Another");
      tpt_job_edit_save (job, record);
      g_assert_cmpint (tpt_project_run (f->project, TPT_JOB (job), NULL, &error), ==, !cases[i].refused);
      if (cases[i].refused)
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
          g_assert_true (tpt_job_edit_get_fault (job, &column) == record);
          g_assert_cmpstr (column, ==, "station");
        }
      oak = find_station (f, "OAK");
      g_assert_cmpstr (tpt_record_get_text (oak, "name"), ==, cases[i].name);
    }
}

static void
set_floor (Fixture *f, const char *degrees)
{
  g_autoptr (TptJobEdit) job = tpt_job_edit_new ("Set floor");

  tpt_job_edit_set_setting (job, "floor_deg", degrees);
  run (f, job);
}

/* The text of the map's table. */
static char *
make_map (Fixture *f, const char *species)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  g_autoptr (TptJobFigure) job = NULL;
  g_autofree char *svg = path_in (f, "map.svg"), *csv = path_in (f, "map.csv");
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  filter->species = species != NULL ? g_strsplit (species, ",", -1) : NULL;
  job = tpt_job_figure_new ("map", filter, FALSE);
  tpt_job_figure_write_to (job, svg, &size, &style);
  run (f, job);
  g_file_get_contents (csv, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

/* Never finer than the project's floor, nor than any species shown asks for,
 * however that species was named. Steps of a degree by sensitivity: Chapman
 * 2020 (high: 0.1). */
static void
test_grid (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *floor_deg;
    const char *species;
    const char *cell;
  } cases[] = {
    { "0.01", "Vulpes vulpes", ",0.01," },
    { "0.001", "Vulpes vulpes", ",0.001," },
    { "0.005", "Vulpes vulpes", ",0.01," },
    { "0.05", "Vulpes vulpes", ",0.1," },
    { "0.5", "Vulpes vulpes", ",1," },
    { "0.001", "Lynx lynx", ",0.1," },
    { "0.001", "Vulpes vulpes,Lynx lynx", ",0.1," },
    { "0.001", "Red fox,Eurasian lynx", ",0.1," },
    { "0.001", "vulpes vulpes,lynx lynx", ",0.1," },
    { "0.001", "Zorro rojo,Lince boreal", ",0.1," },
    { "0.001", "red fox,badger", ",0.001," },
    { "0.001", NULL, ",0.1," },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *table = NULL;

      g_test_message ("floor %s, species %s", cases[i].floor_deg, cases[i].species);
      set_floor (f, cases[i].floor_deg);
      table = make_map (f, cases[i].species);
      g_test_message ("%s", table);
      g_assert_nonnull (strstr (table, cases[i].cell));
      g_assert_null (strstr (table, "50.12345"));
      g_assert_null (strstr (table, "OAK"));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);

  g_test_add ("/jobs/import-again", Fixture, NULL, set_up, test_import_again, tear_down);
  g_test_add ("/jobs/new-keeps-old", Fixture, NULL, set_up, test_new_keeps_old, tear_down);
  g_test_add ("/jobs/grid", Fixture, NULL, set_up, test_grid, tear_down);
  return g_test_run ();
}
