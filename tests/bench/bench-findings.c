/* What a change of filter costs the Findings page: every pane's job, its figure drawn, one after the other as the window runs
 * them. Run by hand on projects made by bench-findings.py:
 *
 *   ninja -C BUILD && cc -O2 -o bench-findings tests/bench/bench-findings.c -Isrc/{base,model,figures,jobs} \
 *     BUILD/src/{jobs/libtapetum-jobs,store/libtapetum-store,intake/libtapetum-intake,exchange/libtapetum-exchange}.a \
 *     BUILD/src/{figures/libtapetum-figures,science/libtapetum-science,model/libtapetum-model,base/libtapetum-base}.a \
 *     $(pkg-config --cflags --libs gio-unix-2.0 gexiv2 libcrypto sqlite3 pangocairo cairo-svg cairo-pdf gdk-pixbuf-2.0 \
 *       json-glib-1.0 libxml-2.0 libjpeg) -lm
 *   ./bench-findings PROJECT...
 *
 * For each project: the first look, which reads the file; then the median over changes of filter nobody has asked for before
 * (another species, another fortnight, other hours, other stations), pane by pane and all together. Beside it what SQLite needs
 * from here to count the same observations by species and station, and no more. */
#include <stdio.h>
#include <stdlib.h>

#include "db.h"
#include "tpt-job-activity.h"
#include "tpt-job-findings.h"
#include "tpt-job-matrix.h"
#include "tpt-job-months.h"
#include "tpt-job-moon.h"
#include "tpt-job-occupancy.h"
#include "tpt-job-richness.h"
#include "tpt-project.h"

#define CHANGES 24
#define WIDTH 960
#define HEIGHT 300

typedef enum {
  PANE_LIST_MAP,
  PANE_STRIP,
  PANE_HOURS,
  PANE_MONTHS,
  PANE_MATRIX,
  PANE_ACCUMULATION,
  PANE_OCCUPANCY,
  PANE_MOON,
  N_PANES,
} Pane;

static const char *const names[N_PANES] = { "list and map", "strip", "hours", "months", "matrix", "accumulation", "occupancy", "moon" };

static TptJob *
make_job (Pane pane, const TptFilter *filter)
{
  g_autoptr (TptFilter) own = tpt_filter_copy (filter);

  switch (pane)
    {
    case PANE_STRIP:
      own->range = (TptRange){ TPT_NO_INSTANT, TPT_NO_INSTANT };
      return TPT_JOB (tpt_job_findings_new (own));
    case PANE_HOURS:
      own->hour_from = own->hour_to = -1;
      return TPT_JOB (tpt_job_activity_new (own, TRUE));
    case PANE_MONTHS:
      own->range = (TptRange){ TPT_NO_INSTANT, TPT_NO_INSTANT };
      return TPT_JOB (tpt_job_months_new (own));
    case PANE_MATRIX:
      g_clear_pointer (&own->species, g_strfreev);
      return TPT_JOB (tpt_job_matrix_new (own, TPT_MATRIX_COUNT));
    case PANE_ACCUMULATION:
      g_clear_pointer (&own->species, g_strfreev);
      return TPT_JOB (tpt_job_richness_new (own));
    case PANE_OCCUPANCY:
      return TPT_JOB (tpt_job_occupancy_new (own, TPT_OCCASION_DAYS));
    case PANE_MOON:
      return TPT_JOB (tpt_job_moon_new (own));
    default:
      return TPT_JOB (tpt_job_findings_new (own));
    }
}

static TptFigure *
get_figure (Pane pane, TptJob *job)
{
  switch (pane)
    {
    case PANE_STRIP:
      return tpt_job_findings_get_strip (TPT_JOB_FINDINGS (job));
    case PANE_HOURS:
      return tpt_job_activity_get_figure (TPT_JOB_ACTIVITY (job));
    case PANE_MONTHS:
      return tpt_job_months_get_figure (TPT_JOB_MONTHS (job));
    case PANE_MATRIX:
      return tpt_job_matrix_get_figure (TPT_JOB_MATRIX (job));
    case PANE_ACCUMULATION:
      return tpt_job_richness_get_figure (TPT_JOB_RICHNESS (job));
    case PANE_MOON:
      return tpt_job_moon_get_figure (TPT_JOB_MOON (job));
    default:
      return NULL;
    }
}

static void
draw (TptFigure *figure)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

  tpt_figure_draw (figure, cr, WIDTH, HEIGHT, &style);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* Milliseconds from the request to pixels. */
static double
show (TptProject *project, Pane pane, const TptFilter *filter)
{
  gint64 began = g_get_monotonic_time ();
  g_autoptr (TptJob) job = make_job (pane, filter);
  g_autoptr (GError) error = NULL;
  TptFigure *figure;

  if (!tpt_project_run (project, job, NULL, &error))
    g_error ("%s: %s", names[pane], error->message);
  figure = get_figure (pane, job);
  if (figure != NULL)
    draw (figure);
  return (double) (g_get_monotonic_time () - began) / 1e3;
}

/* Changes in the order somebody might make them; each is new. */
static TptFilter *
make_filter (guint change)
{
  TptFilter *filter = tpt_filter_new ();

  filter->species = g_new0 (char *, 2);
  filter->species[0] = g_strdup_printf ("Species %03u", change % 40);
  if (change % 4 == 1)
    filter->range = (TptRange){ 1640995200000 + change * TPT_DAY, 1640995200000 + (change + 200) * TPT_DAY };
  if (change % 4 == 2)
    {
      filter->hour_from = (int) change * 30;
      filter->hour_to = filter->hour_from + 300;
      filter->hours_by_sun = TRUE;
    }
  if (change % 4 == 3)
    {
      g_autoptr (GStrvBuilder) stations = g_strv_builder_new ();

      for (guint i = 0; i < 100; i++)
        {
          g_autofree char *code = g_strdup_printf ("S%03u", (change + i) % 300 + 1);
          g_strv_builder_add (stations, code);
        }
      filter->stations = g_strv_builder_end (stations);
    }
  return filter;
}

static int
compare_cb (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static double
find_median (double *times, guint n)
{
  qsort (times, n, sizeof *times, compare_cb);
  return times[n / 2];
}

static double
count_bare (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptDb) db = tpt_db_open (path, TPT_DB_READ, &error);
  gint64 began = g_get_monotonic_time (), n = 0;

  if (db == NULL ||
      !tpt_db_query_int (db, "SELECT count(*) FROM (SELECT o.species_id, d.station_id, count(*), min(o.start_at), max(o.start_at)"
                             " FROM observations o JOIN deployments d ON d.id = o.deployment_id GROUP BY 1, 2)", &n, &error))
    g_error ("%s", error->message);
  return (double) (g_get_monotonic_time () - began) / 1e3;
}

static void
measure (const char *path)
{
  double times[N_PANES][CHANGES], all[CHANGES], first = 0;
  g_autoptr (GError) error = NULL;
  g_autoptr (TptProject) project = tpt_project_open (path, &error);
  g_autoptr (TptFilter) whole = make_filter (0);

  if (project == NULL)
    g_error ("%s", error->message);
  for (Pane pane = 0; pane < N_PANES; pane++)
    first += show (project, pane, whole);
  for (guint change = 0; change < CHANGES; change++)
    {
      g_autoptr (TptFilter) filter = make_filter (change + 1);

      all[change] = 0;
      for (Pane pane = 0; pane < N_PANES; pane++)
        all[change] += times[pane][change] = show (project, pane, filter);
    }
  printf ("%s\n  first look %8.1f ms; bare count in SQL %.1f ms\n  a change, median", path, first, count_bare (path));
  for (Pane pane = 0; pane < N_PANES; pane++)
    printf ("%s %s %.1f", pane > 0 ? "," : "", names[pane], find_median (times[pane], CHANGES));
  qsort (all, CHANGES, sizeof *all, compare_cb);
  printf ("\n  all panes: median %.1f ms, worst %.1f ms\n", all[CHANGES / 2], all[CHANGES - 1]);
}

int
main (int argc, char *argv[])
{
  for (int i = 1; i < argc; i++)
    measure (argv[i]);
  return argc > 1 ? 0 : 2;
}
