/* How fast a card comes in, against the ordinary tools on the same pictures.
 * Run by hand:
 *
 *   cc -O2 -D_GNU_SOURCE -o bench-intake tests/bench/bench-intake.c \
 *     -Isrc/intake -Isrc/base BUILD/src/intake/libtapetum-intake.a BUILD/src/base/libtapetum-base.a \
 *     $(pkg-config --cflags --libs gio-unix-2.0 gexiv2 libcrypto sqlite3) -lm
 *   ./bench-intake FOLDER [PICTURES] [MEGABYTES-EACH]
 *
 * FOLDER is made, filled and removed; it should lie on the disk that pictures
 * go to. Needs exiftool, cp and sha256sum. Each contender runs three times, in
 * turns, and its best time counts. Everything it prints is a ratio of this run.
 *
 * Two comparisons of the copy are made: with plain `cp -r`, which leaves the
 * copies in memory, and with `cp -r` followed by `sync`, which like the program
 * has them on disk before it goes on.
 */
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

#include "tpt-intake-run.h"

typedef struct {
  char *folder;
  char *card;
  char *copies;
  guint n;
  guint megabytes;
} Bench;

/* A JPEG of any size: a real frame, quantisation and Huffman tables are not
 * needed, since nobody here decodes; coded data are noise without FF. */
static void
write_picture (const Bench *bench, guint i)
{
  static const guint8 head[] = { 0xff, 0xd8, 0xff, 0xe0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 1, 0, 0, 1, 0, 1, 0, 0,
                                 0xff, 0xc0, 0, 17, 8, 12, 0, 16, 0, 3, 1, 0x22, 0, 2, 0x11, 1, 3, 0x11, 1,
                                 0xff, 0xda, 0, 12, 3, 1, 0, 2, 0x11, 3, 0x11, 0, 63, 0 };
  gsize length = (gsize) bench->megabytes << 20;
  g_autofree guint8 *data = g_malloc (length);
  g_autofree char *path = g_strdup_printf ("%s/DCIM/%u/IMG_%04u.JPG", bench->card, 100 + i / 100, i);
  g_autofree char *parent = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;
  guint64 state = i * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15) + 1;
  TptExifStamp stamp = { .make = "Invented", .model = "Trail 1", .serial = "INV-7", .temperature_c = 24.5, .flash = 1 };

  for (gsize at = 0; at < length; at++)
    {
      state = state * G_GUINT64_CONSTANT (6364136223846793005) + 1442695040888963407u;
      data[at] = (guint8) (state >> 56) & 0xfe;
    }
  memcpy (data, head, sizeof head);
  data[length - 2] = 0xff;
  data[length - 1] = 0xd9;
  g_mkdir_with_parents (parent, 0755);
  if (!g_file_set_contents_full (path, (char *) data, length, G_FILE_SET_CONTENTS_NONE, 0644, &error))
    g_error ("%s", error->message);
  stamp.reading = (TptReading) { G_GINT64_CONSTANT (1747180800000) + i * 1000, TPT_NO_OFFSET };
  if (!tpt_exif_write_times (path, &stamp, &error))
    g_error ("%s", error->message);
}

static double
run_shell (const char *command)
{
  gint64 start = g_get_monotonic_time ();
  const char *argv[] = { "sh", "-c", command, NULL };
  g_autoptr (GError) error = NULL;
  int status = 1;

  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, &error))
    g_error ("%s", error->message);
  if (status != 0)
    g_error ("failed: %s", command);
  return (g_get_monotonic_time () - start) / 1e6;
}

static void
clear_copies (const Bench *bench)
{
  g_autofree char *command = g_strdup_printf ("rm -rf '%s' && sync", bench->copies);

  run_shell (command);
}

static double
time_metadata (const Bench *bench)
{
  gint64 start = g_get_monotonic_time ();
  g_autoptr (TptScan) scan = tpt_scan_card (bench->card, NULL, NULL);
  guint n_dated = 0;

  for (guint i = 0; i < scan->frames->len; i++)
    {
      const TptScanFile *file = g_ptr_array_index (scan->frames, i);
      g_autofree char *path = g_build_filename (bench->card, file->path, NULL);
      g_autoptr (TptExif) exif = tpt_exif_read (path, file->mtime_ms, NULL);

      n_dated += exif != NULL && exif->source == TPT_TIME_ORIGINAL;
    }
  if (n_dated != bench->n)
    g_error ("%u of %u dates read", n_dated, bench->n);
  return (g_get_monotonic_time () - start) / 1e6;
}

static double
time_exiftool (const Bench *bench)
{
  g_autofree char *command = g_strdup_printf (
    "exiftool -fast2 -q -r -T -DateTimeOriginal -SubSecTimeOriginal -OffsetTimeOriginal -Make -Model -SerialNumber "
    "-AmbientTemperature -Orientation -ImageSize -GPSPosition -Flash '%s' > /dev/null", bench->card);

  return run_shell (command);
}

static double
time_intake (const Bench *bench)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  TptIntakeRequest request = { .card = bench->card, .destination = bench->copies, .prefix = "D1" };
  g_autoptr (TptIntake) intake = NULL;
  g_autoptr (GError) error = NULL;
  gint64 start;

  clear_copies (bench);
  request.clock = (TptClock) { .zone = zone, .start = TPT_NO_INSTANT, .end = TPT_NO_INSTANT, .now = TPT_NO_INSTANT };
  start = g_get_monotonic_time ();
  intake = tpt_intake_run (&request, NULL, &error);
  if (intake == NULL || intake->frames->len != bench->n)
    g_error ("intake: %s", error != NULL ? error->message : "frames are missing");
  return (g_get_monotonic_time () - start) / 1e6;
}

static double
time_tools (const Bench *bench, const char *between)
{
  g_autofree char *command = g_strdup_printf (
    "mkdir -p '%s' && cp -r '%s/.' '%s' && %s && find '%s' -type f -print0 | xargs -0 sha256sum > /dev/null",
    bench->copies, bench->card, bench->copies, between, bench->copies);

  clear_copies (bench);
  return run_shell (command);
}

static void
run_all (const Bench *bench)
{
  double exiftool = INFINITY, metadata = INFINITY, intake = INFINITY, tools = INFINITY, synced = INFINITY;

  for (guint round = 0; round < 3; round++)
    {
      exiftool = fmin (exiftool, time_exiftool (bench));
      metadata = fmin (metadata, time_metadata (bench));
      tools = fmin (tools, time_tools (bench, "true"));
      intake = fmin (intake, time_intake (bench));
      synced = fmin (synced, time_tools (bench, "sync"));
    }

  g_print ("%u pictures of %u MB\n", bench->n, bench->megabytes);
  g_print ("metadata: %.0f pictures/s, exiftool -fast2 %.0f: %.1f times as fast\n", bench->n / metadata,
           bench->n / exiftool, exiftool / metadata);
  g_print ("verified copy: %.2f s, %.0f MB/s\n", intake, bench->n * bench->megabytes / intake);
  g_print ("  against cp -r and sha256sum       %.2f s: %.2f of their time\n", tools, intake / tools);
  g_print ("  against cp -r, sync and sha256sum %.2f s: %.2f of their time\n", synced, intake / synced);
}

int
main (int argc, char **argv)
{
  Bench bench = { 0 };
  g_autofree char *command = NULL;

  if (argc < 2)
    {
      g_printerr ("usage: %s FOLDER [PICTURES] [MEGABYTES-EACH]\n", argv[0]);
      return 2;
    }
  bench.folder = argv[1];
  bench.card = g_build_filename (bench.folder, "card", NULL);
  bench.copies = g_build_filename (g_canonicalize_filename (bench.folder, NULL), "copies", NULL);
  bench.n = argc > 2 ? atoi (argv[2]) : 300;
  bench.megabytes = argc > 3 ? atoi (argv[3]) : 4;
  if (g_mkdir (bench.folder, 0755) != 0)
    {
      g_printerr ("%s: cannot be made, or is there already\n", bench.folder);
      return 2;
    }

  tpt_exif_init ();
  for (guint i = 0; i < bench.n; i++)
    write_picture (&bench, i);
  run_all (&bench);

  command = g_strdup_printf ("rm -rf '%s'", bench.folder);
  run_shell (command);
  return 0;
}
