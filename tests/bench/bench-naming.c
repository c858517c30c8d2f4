/* How long it takes from a key to the next picture on screen while naming, and how much memory that takes. Run by hand:
 *
 *   ninja -C BUILD && cc -O2 -rdynamic -o bench-naming tests/bench/bench-naming.c -Isrc/{base,model,figures,jobs,ui/common,ui/frames} -Itests/ui \
 *     -Wl,--whole-archive BUILD/src/ui/libtapetum-ui.a -Wl,--no-whole-archive -Wl,--start-group \
 *     BUILD/src/{base,model,figures,science,jobs,store,intake,exchange}/lib*.a -Wl,--end-group \
 *     $(pkg-config --cflags --libs libadwaita-1 shumate-1.0 gexiv2 libjpeg libcrypto sqlite3 cairo-svg cairo-pdf json-glib-1.0 libxml-2.0) -lm
 *   sh tests/ui/with-display.sh ./bench-naming [TRIGGERS [DECISIONS [PACED [WIDTH]]]]
 *
 * It makes a project of TRIGGERS triggers (10,000) of one picture each, JPEGs of WIDTH pixels (4,000: 12 megapixels) that are really decoded each time. First
 * PACED decisions (200) at five a second, as fast as a practised person works; then DECISIONS (5,000) each as soon as the picture before it
 * was there; then the rest of the list without deciding. A picture counts as on screen when the frame clock is past painting
 * it at the size of the view. Printed are the median and the 95th percentile, memory now and then, and the most there ever was. */
#include <adwaita.h>
#include <time.h>
#include <unistd.h>

#include "tpt-frame-view.h"
#include "tpt-job-frames.h"
#include "tpt-job-import.h"
#include "tpt-naming-view.h"
#include "tpt-style.h"
#include "ui-helpers.h"

#define N_FILES 8
#define PACE_MS 200
#define REPORT_EVERY 1000
#define PATIENCE_US (30 * G_USEC_PER_SEC)

typedef struct {
  TptProject *project;
  TptFrameList *list;
  TptNamingView *view;
  TptFrameView *picture;
  guint painted; /* frames since the last key */
} Bench;

/* In megabytes. */
static double
read_status (const char *what)
{
  g_autofree char *text = NULL;
  const char *at;

  g_file_get_contents ("/proc/self/status", &text, NULL, NULL);
  at = text != NULL ? strstr (text, what) : NULL;
  return at != NULL ? g_ascii_strtod (at + strlen (what) + 1, NULL) / 1024 : 0;
}

/* --- making ---------------------------------------------------------------------- */

/* As hard to decode as a picture of leaves: noise on a slope, some 3 to 4 MB. */
static void
write_picture (const char *path, int width, guint32 seed)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, width * 3 / 4);
  guchar *pixels = gdk_pixbuf_get_pixels (pixbuf);
  int stride = gdk_pixbuf_get_rowstride (pixbuf);
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  GError *error = NULL;

  for (int y = 0; y < width * 3 / 4; y++)
    for (int x = 0; x < width; x++)
      for (int c = 0; c < 3; c++)
        pixels[y * stride + x * 3 + c] = (guchar) ((x / 40 + y / 30 + c * 20 + g_rand_int_range (rand, 0, 48)) & 255);
  if (!gdk_pixbuf_save (pixbuf, path, "jpeg", &error, "quality", "85", NULL))
    g_error ("%s", error->message);
}

/* Each frame has a name of its own, so that nothing is remembered from another. */
static void
make_frames (const char *folder, guint n, int width)
{
  g_autofree char *pictures = g_build_filename (folder, "pictures", NULL);
  g_autofree char *table = g_build_filename (folder, "frames.csv", NULL);
  g_autoptr (GString) rows = g_string_new ("frame,deployment,file,camera_time\n");

  g_mkdir (pictures, 0700);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/f%u.jpg", pictures, i);
      g_autofree char *source = g_strdup_printf ("%s/f%u.jpg", pictures, i % N_FILES);
      TptReading reading = { .clock_ms = 1772370000000 + (gint64) i * 5 * TPT_MINUTE, .offset_s = TPT_NO_OFFSET };
      g_autofree char *time = tpt_reading_format (reading);

      if (i < N_FILES)
        write_picture (path, width, i);
      else if (link (source, path) != 0)
        g_error ("%s: %s", path, g_strerror (errno));
      g_string_append_printf (rows, "f%u,ALDER-1,pictures/f%u.jpg,%s\n", i, i, time);
    }
  g_file_set_contents (table, rows->str, -1, NULL);
}

static void
run (Bench *b, gpointer job)
{
  GError *error = NULL;

  if (!tpt_project_run (b->project, TPT_JOB (job), NULL, &error))
    g_error ("%s", error->message);
}

static void
make_project (Bench *b, const char *folder, guint n, int width)
{
  g_autofree char *path = g_build_filename (folder, "a.gpkg", NULL);
  g_autofree char *table = g_build_filename (folder, "frames.csv", NULL);
  const char *const paths[] = { table, NULL };
  g_autoptr (TptJobImport) import = tpt_job_import_new (paths, FALSE, FALSE);
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobFrames) frames = tpt_job_frames_new (query);

  make_frames (folder, n, width);
  b->project = ui_make_project (path);
  UI_SAVE (b->project, "One frame a trigger", TPT_TABLE_DEPLOYMENTS, "deployment", "ALDER-1", "station", "ALDER", "start",
           "2026-03-01T10:00", "frames_per_trigger", "1");
  for (guint i = 0; i < 40; i++)
    {
      g_autofree char *name = g_strdup_printf ("Genus species%c%c", 'a' + i / 26, 'a' + i % 26);

      UI_SAVE (b->project, "Add species", TPT_TABLE_SPECIES, "scientific_name", name);
    }
  run (b, import);
  run (b, frames);
  b->list = tpt_frame_list_new (b->project);
  tpt_frame_list_take_refs (b->list, tpt_job_frames_steal_refs (frames));
  g_print ("%u triggers\n", g_list_model_get_n_items (G_LIST_MODEL (b->list)));
}

/* --- looking ------------------------------------------------------------------------ */

static void
after_paint_cb (GdkFrameClock *clock, Bench *b)
{
  b->painted++;
}

static void
open_window (Bench *b)
{
  GtkWidget *window = gtk_window_new ();

  b->view = tpt_naming_view_new ();
  gtk_window_set_child (GTK_WINDOW (window), GTK_WIDGET (b->view));
  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 760);
  gtk_window_present (GTK_WINDOW (window));
  tpt_naming_view_set_project (b->view, b->project);
  tpt_naming_view_set_person (b->view, "Mira");
  tpt_naming_view_show (b->view, b->list, 0);
  ui_settle ();
  ui_settle ();
  b->picture = TPT_FRAME_VIEW (ui_find (GTK_WIDGET (b->view), TPT_TYPE_FRAME_VIEW));
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (after_paint_cb), b);
}

static void
press (Bench *b, guint keyval)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (b->view));
  gboolean handled = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_KEY (controller) && !handled)
        g_signal_emit_by_name (controller, "key-pressed", keyval, 0, 0, &handled);
    }
}

/* Of this thread alone, in milliseconds: what the window itself takes, however busy the machine is. */
static double
read_own_time (void)
{
  struct timespec at;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &at);
  return (double) at.tv_sec * 1000 + (double) at.tv_nsec / 1e6;
}

/* Milliseconds from the key until the next picture has been painted sharp. */
static double
step (Bench *b, guint keyval)
{
  guint position = tpt_naming_view_get_position (b->view);
  gint64 began = g_get_monotonic_time ();
  guint sharp_at = 0;

  b->painted = 0;
  press (b, keyval);
  if (tpt_naming_view_get_position (b->view) != position + 1)
    g_error ("the key did not lead on from %u", position);
  while (sharp_at == 0 || b->painted < sharp_at)
    {
      if (sharp_at == 0 && tpt_frame_view_is_sharp (b->picture))
        sharp_at = b->painted + 1;
      else
        g_main_context_iteration (NULL, TRUE);
      if (g_get_monotonic_time () - began > PATIENCE_US)
        g_error ("no picture at %u", position + 1);
    }
  return (double) (g_get_monotonic_time () - began) / 1000;
}

static void
pause_for (guint ms)
{
  gboolean expired = FALSE;

  g_timeout_add (ms, ui_expired_cb, &expired);
  while (!expired)
    g_main_context_iteration (NULL, TRUE);
}

static int
compare_cb (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

static void
print_times (const char *what, GArray *times)
{
  g_array_sort (times, compare_cb);
  if (times->len > 0)
    g_print ("%-28s %6u: median %6.1f ms, 95 %% %6.1f ms, most %6.1f ms\n", what, times->len,
             g_array_index (times, double, times->len / 2), g_array_index (times, double, times->len * 95 / 100),
             g_array_index (times, double, times->len - 1));
}

static void
go_on (Bench *b, const char *what, guint keyval, guint n, guint pace)
{
  g_autoptr (GArray) times = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) own = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < n; i++)
    {
      double ms, own_ms;

      if (pace > 0)
        pause_for (pace);
      own_ms = read_own_time ();
      ms = step (b, keyval);
      own_ms = read_own_time () - own_ms;
      g_array_append_val (times, ms);
      g_array_append_val (own, own_ms);
      if ((i + 1) % REPORT_EVERY == 0)
        g_print ("  %6u: %.0f MB now, %.0f MB at most\n", i + 1, read_status ("VmRSS:"), read_status ("VmHWM:"));
    }
  print_times (what, times);
  print_times ("  of it the window's thread", own);
}

int
main (int argc, char *argv[])
{
  guint n = argc > 1 ? (guint) atoi (argv[1]) : 10000;
  guint decisions = argc > 2 ? (guint) atoi (argv[2]) : 5000;
  guint paced = argc > 3 ? (guint) atoi (argv[3]) : 200;
  int width = argc > 4 ? atoi (argv[4]) : 4000;
  g_autofree char *folder = g_dir_make_tmp ("naming-XXXXXX", NULL);
  Bench b = { 0 };

  adw_init ();
  tpt_style_install ();
  if (n < 2 || decisions + paced > n - 1)
    g_error ("more decisions than triggers");
  make_project (&b, folder, n, width);
  open_window (&b);
  g_print ("%.0f MB before the first key\n", read_status ("VmRSS:"));
  go_on (&b, "decisions, five a second", GDK_KEY_b, paced, PACE_MS);
  go_on (&b, "decisions, at once", GDK_KEY_b, decisions, 0);
  go_on (&b, "next, at once", GDK_KEY_Down, n - 1 - decisions - paced, 0);
  g_print ("%.0f MB at most\n", read_status ("VmHWM:"));
  return 0;
}
