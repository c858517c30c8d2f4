/* How long the jobs take that the window waits for before it can be used. Run by hand on a project made by bench-open.py:
 *
 *   ninja -C BUILD && cc -O2 -o bench-window tests/bench/bench-window.c -Isrc/{base,model,figures,jobs} \
 *     BUILD/src/{jobs/libtapetum-jobs,store/libtapetum-store,intake/libtapetum-intake,exchange/libtapetum-exchange}.a \
 *     BUILD/src/{figures/libtapetum-figures,science/libtapetum-science,model/libtapetum-model,base/libtapetum-base}.a \
 *     $(pkg-config --cflags --libs gio-unix-2.0 gexiv2 libcrypto sqlite3 pangocairo cairo-svg cairo-pdf gdk-pixbuf-2.0 json-glib-1.0 libxml-2.0) -lm
 *   ./bench-window PROJECT STATION [YYYY-MM-DD]
 *
 * Each job runs three times; the first time and the best are printed. */
#include "tpt-job-due.h"
#include "tpt-job-findings.h"
#include "tpt-job-station.h"
#include "tpt-job-tracks.h"
#include "tpt-project.h"

typedef struct {
  const char *station;
  TptInstant on;
} Request;

static TptJob *
make_job (const char *name, const Request *request)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();

  if (g_str_equal (name, "due"))
    return TPT_JOB (tpt_job_due_new (request->on, TPT_NO_INSTANT));
  if (g_str_equal (name, "tracks"))
    return TPT_JOB (tpt_job_tracks_new ());
  if (g_str_equal (name, "station"))
    return TPT_JOB (tpt_job_station_new (request->station, request->on));
  return TPT_JOB (tpt_job_findings_new (filter));
}

static double
run_job (TptProject *project, const char *name, const Request *request)
{
  g_autoptr (TptJob) job = make_job (name, request);
  g_autoptr (GError) error = NULL;
  gint64 began = g_get_monotonic_time ();

  if (!tpt_project_run (project, job, NULL, &error))
    g_error ("%s: %s", name, error->message);
  return (double) (g_get_monotonic_time () - began) / 1e6;
}

int
main (int argc, char *argv[])
{
  static const char *const names[] = { "due", "tracks", "station", "findings" };
  g_autoptr (TptProject) project = NULL;
  g_autoptr (GError) error = NULL;
  Request request = { argc > 2 ? argv[2] : NULL, TPT_NO_INSTANT };
  gint64 began = g_get_monotonic_time ();
  double total;

  if (argc < 3)
    g_error ("bench-window PROJECT STATION [YYYY-MM-DD]");
  project = tpt_project_open (argv[1], &error);
  if (project == NULL)
    g_error ("%s", error->message);
  if (argc > 3)
    request.on = tpt_instant_parse (argv[3], tpt_project_get_zone (project), NULL);
  total = (double) (g_get_monotonic_time () - began) / 1e6;
  g_print ("%-10s %7.3f s\n", "open", total);

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      double first = run_job (project, names[i], &request), best = first;

      for (int again = 0; again < 2; again++)
        best = MIN (best, run_job (project, names[i], &request));
      g_print ("%-10s %7.3f s, at best %7.3f s\n", names[i], first, best);
      if (i < 3)
        total += first;
    }
  g_print ("%-10s %7.3f s: open, due, tracks and one station\n", "usable", total);
  return 0;
}
