/* How soon a picture is on screen, against the ordinary ways to decode it, in
 * the same run. Run by hand:
 *
 *   cc -O2 -D_GNU_SOURCE -o bench-previews tests/bench/bench-previews.c -Isrc/jobs -Isrc/intake -Isrc/base \
 *     BUILD/src/jobs/libtapetum-jobs.a BUILD/src/intake/libtapetum-intake.a BUILD/src/base/libtapetum-base.a \
 *     $(pkg-config --cflags --libs gio-unix-2.0 gdk-pixbuf-2.0 gexiv2 libjpeg sqlite3) -lm
 *   ./bench-previews FOLDER [PICTURES] [FRAMES]
 *
 * FOLDER is made, filled and removed. PICTURES of 12 megapixels are drawn, 12
 * when not said; FRAMES, 10000 when not said, are stepped through in the first
 * part, each with a key of its own, so that none is found in memory. Needs
 * djpeg. Each contender runs three times over all pictures, in turns, and its
 * best time counts. Times depend on the machine; the ratios are what to look at.
 */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tpt-exif.h"
#include "tpt-preview.h"
#include "tpt-previews.h"

#define WIDTH 4000
#define HEIGHT 3000

typedef struct {
  char *folder;
  guint n;
  char **paths;
  char **keys;
} Bench;

static double
get_seconds (void)
{
  return g_get_monotonic_time () / 1e6;
}

/* Leaves, trunks and the noise of a small sensor: some 4 MB at quality 90. */
static void
draw (guint8 *pixels, guint seed)
{
  guint32 state = seed * 2654435761u + 1;

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      {
        double shape = sin ((x + 40 * sin (y / 90.0 + seed)) / 23.0) * cos (y / 31.0 + seed) + sin (x * y / 90000.0);
        guint8 *at = pixels + 3 * ((gsize) y * WIDTH + x);
        int noise;

        state = state * 1664525u + 1013904223u;
        noise = (int) (state >> 28) - 8;
        at[0] = (guint8) CLAMP (90 + 35 * shape + noise, 0, 255);
        at[1] = (guint8) CLAMP (110 + 45 * shape + noise, 0, 255);
        at[2] = (guint8) CLAMP (70 + 25 * shape - noise, 0, 255);
      }
}

static void
write_pictures (Bench *bench)
{
  g_autofree guint8 *pixels = g_malloc ((gsize) 3 * WIDTH * HEIGHT);
  guint64 bytes = 0;

  bench->paths = g_new0 (char *, bench->n + 1);
  bench->keys = g_new0 (char *, bench->n + 1);
  for (guint i = 0; i < bench->n; i++)
    {
      g_autoptr (GdkPixbuf) pixbuf =
        gdk_pixbuf_new_from_data (pixels, GDK_COLORSPACE_RGB, FALSE, 8, WIDTH, HEIGHT, 3 * WIDTH, NULL, NULL);
      g_autoptr (GError) error = NULL;
      GStatBuf st;

      draw (pixels, i);
      bench->paths[i] = g_strdup_printf ("%s/%03u.jpg", bench->folder, i);
      bench->keys[i] = g_strdup_printf ("%064x", i);
      if (!gdk_pixbuf_save (pixbuf, bench->paths[i], "jpeg", &error, "quality", "90", NULL))
        g_error ("%s", error->message);
      if (g_stat (bench->paths[i], &st) == 0)
        bytes += st.st_size;
    }
  g_print ("%u pictures of %d by %d, %.1f MB each\n", bench->n, WIDTH, HEIGHT, bytes / 1e6 / bench->n);
}

typedef void (*DecodeFunc) (const char *path, int size);

static void
decode_ours (const char *path, int size)
{
  g_autoptr (TptPixels) pixels = tpt_preview_decode (path, size, NULL);

  if (pixels == NULL)
    g_error ("%s: nothing", path);
}

static void
decode_pixbuf (const char *path, int size)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new_from_file_at_size (path, size, size, NULL);

  if (pixbuf == NULL)
    g_error ("%s: nothing", path);
}

/* djpeg knows eighths, and no size of one's own. */
static void
decode_djpeg (const char *path, int size)
{
  g_autofree char *scale = g_strdup_printf ("%d/8", size >= WIDTH ? 8 : size > WIDTH / 8 ? 4 : 1);
  const char *argv[] = { "djpeg", "-scale", scale, "-outfile", "/dev/null", path, NULL };
  int status = 1;

  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, NULL) || status != 0)
    g_error ("djpeg failed");
}

/* Seconds a picture. */
static double
time_one (const Bench *bench, DecodeFunc decode, int size)
{
  double start = get_seconds ();

  for (guint i = 0; i < bench->n; i++)
    decode (bench->paths[i], size);
  return (get_seconds () - start) / bench->n;
}

static void
compare_decoders (const Bench *bench, int size)
{
  double ours = INFINITY, pixbuf = INFINITY, djpeg = INFINITY;

  for (guint round = 0; round < 3; round++)
    {
      djpeg = fmin (djpeg, time_one (bench, decode_djpeg, size));
      pixbuf = fmin (pixbuf, time_one (bench, decode_pixbuf, size));
      ours = fmin (ours, time_one (bench, decode_ours, size));
    }
  g_print ("decode at %4d: %5.1f ms; gdk-pixbuf %5.1f ms (%.2f of its time), djpeg -scale %5.1f ms (%.2f)\n", size,
           ours * 1e3, pixbuf * 1e3, ours / pixbuf, djpeg * 1e3, ours / djpeg);
}

typedef struct {
  TptPicture *picture;
  gboolean done;
} Answer;

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Answer *answer = data;
  g_autoptr (GError) error = NULL;

  answer->picture = tpt_previews_load_finish (TPT_PREVIEWS (source), result, &error);
  if (answer->picture == NULL)
    g_error ("%s", error->message);
  answer->done = TRUE;
}

/* Frame @i of a row without end, the same pictures under other keys. */
static char *
make_key (guint i)
{
  return g_strdup_printf ("frame %u", i);
}

/* Seconds from asking to having; then the next @ahead are asked for. */
static double
step (const Bench *bench, TptPreviews *previews, guint i, guint ahead)
{
  g_autofree char *key = make_key (i);
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  g_autoptr (GPtrArray) keys = g_ptr_array_new_with_free_func (g_free);
  const char *path = bench->paths[i % bench->n];
  double start = get_seconds (), taken;
  Answer answer = { tpt_previews_peek (previews, path, key, TPT_PREVIEW_LARGE), FALSE };

  if (answer.picture == NULL)
    {
      tpt_previews_load_async (previews, path, key, TPT_PREVIEW_LARGE, NULL, loaded_cb, &answer);
      while (!answer.done)
        g_main_context_iteration (NULL, TRUE);
    }
  taken = get_seconds () - start;
  for (guint next = i + 1; next <= i + ahead; next++)
    {
      g_ptr_array_add (paths, bench->paths[next % bench->n]);
      g_ptr_array_add (keys, make_key (next));
    }
  tpt_previews_ahead (previews, (const char *const *) paths->pdata, (const char *const *) keys->pdata, ahead,
                      TPT_PREVIEW_LARGE);
  tpt_picture_unref (answer.picture);
  return taken;
}

static int
compare_doubles_cb (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static void
step_through (const Bench *bench, double a_second, guint ahead)
{
  g_autoptr (TptPreviews) previews = tpt_previews_new (bench->folder, 0, 0);
  guint n = 100;
  g_autofree double *taken = g_new (double, n);

  for (guint i = 0; i < n; i++)
    {
      double start = get_seconds ();

      taken[i] = step (bench, previews, i, ahead);
      while (get_seconds () - start < 1 / a_second)
        g_usleep (1000);
    }
  qsort (taken, n, sizeof (double), compare_doubles_cb);
  g_print ("from asking to having, %2.0f frames a second, %u ahead: median %5.2f ms, 95 of 100 within %5.1f ms, worst %5.1f ms\n",
           a_second, ahead, taken[n / 2] * 1e3, taken[n * 95 / 100] * 1e3, taken[n - 1] * 1e3);
}

static double
read_peak_mb (void)
{
  g_autofree char *text = NULL;
  const char *at;

  if (!g_file_get_contents ("/proc/self/status", &text, NULL, NULL) || (at = strstr (text, "VmHWM:")) == NULL)
    return NAN;
  return g_ascii_strtod (at + strlen ("VmHWM:"), NULL) / 1024;
}

static void
step_long (const Bench *bench, guint n)
{
  g_autoptr (TptPreviews) previews = tpt_previews_new (bench->folder, 0, 0);
  double start = get_seconds (), early = 0, worst = 0;
  gsize most;

  for (guint i = 0; i < n; i++)
    {
      worst = fmax (worst, step (bench, previews, i, 4));
      if (i == n / 10)
        early = read_peak_mb ();
    }
  tpt_previews_get_memory (previews, &most);
  g_print ("%u frames as fast as they come: %.1f a second, worst %.0f ms\n", n, n / (get_seconds () - start), worst * 1e3);
  g_print ("memory: pixels remembered %.0f MB at most; of the whole process %.0f MB after a tenth, %.0f MB at the end: %.2f times\n",
           most / 1e6, early, read_peak_mb (), read_peak_mb () / early);
}

int
main (int argc, char **argv)
{
  Bench bench = { 0 };
  const char *remove[] = { "rm", "-rf", NULL, NULL };

  if (argc < 2 || g_mkdir (argv[1], 0755) != 0)
    {
      g_printerr ("usage: %s FOLDER [PICTURES] [FRAMES]; FOLDER must not be there yet\n", argv[0]);
      return 2;
    }
  tpt_exif_init ();
  bench.folder = argv[1];
  bench.n = argc > 2 ? atoi (argv[2]) : 12;
  write_pictures (&bench);
  /* first, while the process has used no memory for anything else */
  step_long (&bench, argc > 3 ? atoi (argv[3]) : 10000);
  compare_decoders (&bench, TPT_PREVIEW_LARGE);
  compare_decoders (&bench, TPT_PREVIEW_SMALL);
  compare_decoders (&bench, WIDTH);
  step_through (&bench, 5, 0);
  step_through (&bench, 5, 4);
  step_through (&bench, 10, 4);

  remove[2] = bench.folder;
  g_spawn_sync (NULL, (char **) remove, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL);
  g_strfreev (bench.paths);
  g_strfreev (bench.keys);
  return 0;
}
