/* EXIF 2.32 (CIPA DC-008-2019): dates and sub-seconds section 4.6.5, ambient
 * temperature tag 9400, GPS section 4.6.6. What real cameras get wrong is common
 * practice, no source. Where `exiftool` is installed it writes odd cases and
 * is a second opinion on every photograph found. */
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "intake-fixture.h"
#include "tpt-error.h"
#include "tpt-exif.h"

typedef struct {
  const char *date, *subsec, *offset;
  const char *reading;    /* NULL: no date */
  gboolean why_not;
  const char *odd_offset;
} DateCase;

static const DateCase date_cases[] = {
  { "2025:05:14 07:30:01", NULL, NULL, "2025-05-14T07:30:01" },
  { "2025:05:14 07:30:01", "5", NULL, "2025-05-14T07:30:01.500" },
  { "2025:05:14 07:30:01", "05", NULL, "2025-05-14T07:30:01.050" },
  { "2025:05:14 07:30:01", "123456789", NULL, "2025-05-14T07:30:01.123" },
  { "2025:05:14 07:30:01", "25   ", NULL, "2025-05-14T07:30:01.250" },
  { "2025:05:14 07:30:01", "   ", NULL, "2025-05-14T07:30:01" },
  { "2025:05:14 07:30:01", "xx", NULL, "2025-05-14T07:30:01" },
  { "2025:05:14 07:30:01", NULL, "+08:00", "2025-05-14T07:30:01+08:00" },
  { "2025:05:14 07:30:01", NULL, "-03:30", "2025-05-14T07:30:01-03:30" },
  { "2025:05:14 07:30:01", NULL, "Z", "2025-05-14T07:30:01+00:00" },
  { "2025:05:14 07:30:01", NULL, "+14:00", "2025-05-14T07:30:01+14:00" },
  { "2025:05:14 07:30:01", NULL, "   :  ", "2025-05-14T07:30:01" },
  { "2025:05:14 07:30:01", NULL, "", "2025-05-14T07:30:01" },
  { "2025:05:14 07:30:01", NULL, "+0200", "2025-05-14T07:30:01", FALSE, "+0200" },
  { "2025:05:14 07:30:01", NULL, "+14:45", "2025-05-14T07:30:01", FALSE, "+14:45" },
  { "2025:05:14 07:30:01", NULL, "+99:00", "2025-05-14T07:30:01", FALSE, "+99:00" },
  { "2025:05:14 07:30:01", NULL, "08:00", "2025-05-14T07:30:01", FALSE, "08:00" },
  { "2025:05:14 07:30:01", NULL, "+08:60", "2025-05-14T07:30:01", FALSE, "+08:60" },
  { "2025-05-14T07:30:01", NULL, NULL, "2025-05-14T07:30:01" },
  { "2025/05/14 07:30:01", NULL, NULL, "2025-05-14T07:30:01" },
  { "2024:02:29 23:59:59", NULL, NULL, "2024-02-29T23:59:59" },
  { NULL, NULL, NULL, NULL },
  { "", NULL, NULL, NULL },
  { "    :  :     :  :  ", NULL, NULL, NULL },
  { "                   ", NULL, NULL, NULL },
  { "0000:00:00 00:00:00", "5", "+08:00", NULL },
  { "0000:01:01 00:00:00", NULL, NULL, NULL, TRUE },
  { "2025:02:30 07:30:01", NULL, NULL, NULL, TRUE },
  { "2025:02:29 07:30:01", NULL, NULL, NULL, TRUE },
  { "2025:13:01 07:30:01", NULL, NULL, NULL, TRUE },
  { "2025:05:00 07:30:01", NULL, NULL, NULL, TRUE },
  { "2025:05:14 24:00:00", NULL, NULL, NULL, TRUE },
  { "2025:05:14 25:30:01", NULL, NULL, NULL, TRUE },
  { "2025:05:14 07:60:01", NULL, NULL, NULL, TRUE },
  { "2025:05:14 07:30:60", NULL, NULL, NULL, TRUE },
  { "2025:05:14", NULL, NULL, NULL, TRUE },
  { "yesterday", NULL, NULL, NULL, TRUE },
  { "\xff\xff\xff\xff:05:14 07:30:01", NULL, NULL, NULL, TRUE },
};

static void
test_dates (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (date_cases); i++)
    {
      const DateCase *c = &date_cases[i];
      TptReading reading = { 0, TPT_NO_OFFSET };
      g_autofree char *why_not = NULL;
      g_autofree char *odd_offset = NULL;
      g_autofree char *found = NULL;

      g_test_message ("case %u", i);
      if (tpt_exif_parse_date (c->date, c->subsec, c->offset, &reading, &why_not, &odd_offset))
        found = tpt_reading_format (reading);
      g_assert_cmpstr (found, ==, c->reading);
      g_assert_cmpint (why_not != NULL, ==, c->why_not);
      g_assert_cmpstr (odd_offset, ==, c->odd_offset);
    }
}

/* (transfer full): the hash of the stamped picture. */
static char *
stamp_one (const char *folder, const char *name, const TptExifStamp *stamp)
{
  g_autoptr (GByteArray) jpeg = fixture_draw_jpeg (3, 120, 80);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;

  fixture_write (folder, name, jpeg->data, jpeg->len);
  g_assert_true (tpt_exif_write_times (path, stamp, &error));
  g_assert_no_error (error);
  return fixture_hash_file (path);
}

/* What is stamped is read back, and twice gives the same bytes. */
static void
test_stamp (void)
{
  TptExifStamp stamp = { .make = "Invented", .model = "Trail 2", .serial = "A-00017", .temperature_c = -5.5, .flash = 1 };
  g_autofree char *folder = fixture_make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.jpg", NULL);
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;
  g_autofree char *found = NULL;
  g_autoptr (TptExif) exif = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (tpt_reading_parse ("2025-05-14T07:30:01.250+08:00", &stamp.reading, NULL));
  first = stamp_one (folder, "a.jpg", &stamp);
  second = stamp_one (folder, "b.jpg", &stamp);
  g_assert_cmpstr (first, ==, second);

  exif = tpt_exif_read (path, 0, &error);
  g_assert_no_error (error);
  found = tpt_reading_format (exif->reading);
  g_assert_cmpstr (found, ==, "2025-05-14T07:30:01.250+08:00");
  g_assert_cmpint (exif->source, ==, TPT_TIME_ORIGINAL);
  g_assert_cmpstr (exif->make, ==, "Invented");
  g_assert_cmpstr (exif->model, ==, "Trail 2");
  g_assert_cmpstr (exif->serial, ==, "A-00017");
  g_assert_cmpfloat (exif->temperature_c, ==, -5.5);
  g_assert_cmpint (exif->flash, ==, 1);
  g_assert_cmpint (exif->width, ==, 120);
  g_assert_cmpint (exif->height, ==, 80);
  g_assert_true (isnan (exif->latitude));
  fixture_remove_tree (folder);
}

static void
test_no_exif (void)
{
  g_autofree char *folder = fixture_make_folder ();
  g_autofree char *path = g_build_filename (folder, "a.jpg", NULL);
  g_autoptr (TptExif) with = NULL;
  g_autoptr (TptExif) without = NULL;
  g_autoptr (TptExif) clip = tpt_exif_from_file_time (86400000);

  fixture_write_jpeg (folder, "a.jpg", 1, NULL);
  with = tpt_exif_read (path, 86400000, NULL);
  g_assert_cmpint (with->source, ==, TPT_TIME_FILE);
  g_assert_cmpint (with->reading.clock_ms, ==, 86400000);
  g_assert_cmpint (with->reading.offset_s, ==, 0);
  g_assert_null (with->why_not);
  without = tpt_exif_read (path, TPT_NO_INSTANT, NULL);
  g_assert_cmpint (without->source, ==, TPT_TIME_NONE);
  g_assert_cmpint (clip->source, ==, TPT_TIME_FILE);
  g_assert_true (isnan (clip->temperature_c));
  fixture_remove_tree (folder);
}

typedef struct {
  const char *name;
  const char *bytes;
  gsize length;
} JunkCase;

static const JunkCase junk_cases[] = {
  { "empty.jpg", "", 0 },
  { "ff.jpg", "\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff", 16 },
  { "zero.jpg", "\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0", 16 },
  { "text.jpg", "this is not a picture at all, whatever its name", 47 },
  { "soi.jpg", "\xff\xd8", 2 },
  { "tiff.nef", "II*\0\xff\xff\xff\xff", 8 },
  { "loop.dng", "II*\0\x08\0\0\0\0\0\x08\0\0\0", 14 },
};

static void
test_junk (void)
{
  g_autofree char *folder = fixture_make_folder ();

  for (guint i = 0; i < G_N_ELEMENTS (junk_cases); i++)
    {
      g_autofree char *path = g_build_filename (folder, junk_cases[i].name, NULL);
      g_autoptr (TptExif) exif = NULL;
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", junk_cases[i].name);
      fixture_write (folder, junk_cases[i].name, junk_cases[i].bytes, junk_cases[i].length);
      exif = tpt_exif_read (path, TPT_NO_INSTANT, &error);
      if (exif == NULL)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      else
        g_assert_cmpint (exif->source, ==, TPT_TIME_NONE);
    }
  fixture_remove_tree (folder);
}

/* What exiftool is told to write, and what must be read. */
typedef struct {
  const char *arguments;      /* one a line */
  const char *reading;        /* NULL: that of the file, 1970-01-02 */
  TptTimeSource source;
  double latitude, longitude; /* 99: none */
  double temperature_c;       /* 99: none */
  int orientation;
  int flash;
  const char *serial;
  double exposure_value;      /* 0: none. Exif 2.32, annex C (APEX), at ISO 100 */
} WrittenCase;

static const WrittenCase written_cases[] = {
  { "-DateTimeOriginal=2025:05:14 07:30:01\n-SubSecTimeOriginal=5\n-OffsetTimeOriginal=+08:00",
    "2025-05-14T07:30:01.500+08:00", TPT_TIME_ORIGINAL, 99, 99, 99, 0, -1, NULL },
  /* the offset of ModifyDate is not the picture's */
  { "-DateTimeOriginal=2025:05:14 07:30:01\n-ModifyDate=2025:06:01 10:00:00\n-OffsetTime=+02:00",
    "2025-05-14T07:30:01", TPT_TIME_ORIGINAL, 99, 99, 99, 0, -1, NULL },
  { "-CreateDate=2025:05:14 07:30:01\n-SubSecTimeDigitized=25\n-OffsetTimeDigitized=-03:00",
    "2025-05-14T07:30:01.250-03:00", TPT_TIME_DIGITIZED, 99, 99, 99, 0, -1, NULL },
  /* zeros: the next best */
  { "-DateTimeOriginal=0000:00:00 00:00:00\n-CreateDate=2025:05:14 07:30:01", "2025-05-14T07:30:01",
    TPT_TIME_DIGITIZED, 99, 99, 99, 0, -1, NULL },
  { "-XMP-exif:DateTimeOriginal=2025:05:14 07:30:01.75+08:00", "2025-05-14T07:30:01.750+08:00", TPT_TIME_XMP,
    99, 99, 99, 0, -1, NULL },
  /* ModifyDate alone is no date of the picture */
  { "-ModifyDate=2025:06:01 10:00:00", NULL, TPT_TIME_FILE, 99, 99, 99, 0, -1, NULL },
  { "-GPSLatitude=1.5\n-GPSLatitudeRef=N\n-GPSLongitude=110.25\n-GPSLongitudeRef=E", NULL, TPT_TIME_FILE, 1.5,
    110.25, 99, 0, -1, NULL },
  { "-GPSLatitude=33.5\n-GPSLatitudeRef=S\n-GPSLongitude=70.25\n-GPSLongitudeRef=W", NULL, TPT_TIME_FILE, -33.5,
    -70.25, 99, 0, -1, NULL },
  /* 0, 0 is what is written without a fix; but the equator is a place */
  { "-GPSLatitude=0\n-GPSLatitudeRef=N\n-GPSLongitude=0\n-GPSLongitudeRef=E", NULL, TPT_TIME_FILE, 99, 99, 99, 0,
    -1, NULL },
  { "-GPSLatitude=0\n-GPSLatitudeRef=N\n-GPSLongitude=110\n-GPSLongitudeRef=E", NULL, TPT_TIME_FILE, 0, 110, 99, 0,
    -1, NULL },
  { "-GPSLatitude=1.5\n-GPSLongitude=110.25\n-GPSLongitudeRef=E", NULL, TPT_TIME_FILE, 99, 99, 99, 0, -1, NULL },
  { "-AmbientTemperature=-12.5\n-Orientation#=6\n-EXIF:Flash#=1\n-SerialNumber=0042", NULL, TPT_TIME_FILE, 99, 99, -12.5,
    6, 1, "0042" },
  { "-AmbientTemperature=31\n-Orientation#=8\n-EXIF:Flash#=16\n-SerialNumber=0000000", NULL, TPT_TIME_FILE, 99, 99, 31, 8,
    0, NULL },
  /* log2 (8² × 125) */
  { "-FNumber=8\n-ExposureTime=1/125\n-ISO=100", NULL, TPT_TIME_FILE, 99, 99, 99, 0, -1, NULL, 12.965784 },
  /* log2 (2.8² × 60) less three for ISO 800 */
  { "-FNumber=2.8\n-ExposureTime=1/60\n-ISO=800", NULL, TPT_TIME_FILE, 99, 99, 99, 0, -1, NULL, 5.877744 },
  { "-FNumber=8\n-ExposureTime=1/125", NULL, TPT_TIME_FILE, 99, 99, 99, 0, -1, NULL },
  { "-FNumber=0\n-ExposureTime=1/125\n-ISO=100", NULL, TPT_TIME_FILE, 99, 99, 99, 0, -1, NULL },
};

static gboolean
run_exiftool (const char *folder, const char *arguments, char **output)
{
  g_autofree char *path = g_build_filename (folder, "arguments.txt", NULL);
  const char *argv[] = { "exiftool", "-charset", "filename=utf8", "-@", path, NULL };
  int status = 1;

  g_assert_true (g_file_set_contents (path, arguments, -1, NULL));
  return g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                       output, NULL, &status, NULL);
}

static gboolean
has_exiftool (void)
{
  g_autofree char *path = g_find_program_in_path ("exiftool");

  if (path == NULL)
    g_test_skip ("exiftool is not installed");
  return path != NULL;
}

static void
check_number (double found, double expected)
{
  if (expected == 99)
    g_assert_true (isnan (found));
  else
    /* the rationals exiftool writes are good to about 1e-7 of a degree */
    g_assert_cmpfloat_with_epsilon (found, expected, 1e-6);
}

static void
check_written (const char *folder, guint i)
{
  const WrittenCase *c = &written_cases[i];
  g_autofree char *path = g_strdup_printf ("%s/%u.jpg", folder, i);
  g_autoptr (GError) error = NULL;
  g_autoptr (TptExif) exif = tpt_exif_read (path, TPT_DAY, &error);
  g_autofree char *found = NULL;

  g_test_message ("case %u", i);
  g_assert_no_error (error);
  found = tpt_reading_format (exif->reading);
  g_assert_cmpstr (found, ==, c->reading != NULL ? c->reading : "1970-01-02T00:00:00+00:00");
  g_assert_cmpint (exif->source, ==, c->source);
  check_number (exif->latitude, c->latitude);
  check_number (exif->longitude, c->longitude);
  check_number (exif->temperature_c, c->temperature_c);
  g_assert_cmpint (exif->orientation, ==, c->orientation);
  g_assert_cmpint (exif->flash, ==, c->flash);
  g_assert_cmpstr (exif->serial, ==, c->serial);
  if (c->exposure_value != 0)
    g_assert_cmpfloat_with_epsilon (exif->exposure_value, c->exposure_value, 1e-5); /* of the six decimals above */
  else
    g_assert_true (isnan (exif->exposure_value));
}

static void
test_written (void)
{
  g_autofree char *folder = NULL;
  g_autoptr (GString) arguments = g_string_new (NULL);

  if (!has_exiftool ())
    return;
  folder = fixture_make_folder ();
  for (guint i = 0; i < G_N_ELEMENTS (written_cases); i++)
    {
      g_autofree char *name = g_strdup_printf ("%u.jpg", i);

      fixture_write_jpeg (folder, name, i, NULL);
      g_string_append_printf (arguments, "-q\n-m\n-overwrite_original\n%s\n%s/%s\n-execute\n",
                              written_cases[i].arguments, folder, name);
    }
  g_assert_true (run_exiftool (folder, arguments->str, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (written_cases); i++)
    check_written (folder, i);
  fixture_remove_tree (folder);
}

/* Photographs of many makers: those that happen to be installed, and those of
 * the folders in TAPETUM_PHOTOS (separated by colons), for instance the test
 * pictures in the source packages of exiftool, exiv2 or libexif. */
static void
find_photographs (GPtrArray *paths, const char *folder, guint depth)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && depth < 8 && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *folded = g_ascii_strdown (name, -1);

      if (g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        continue;
      if (g_file_test (path, G_FILE_TEST_IS_DIR))
        find_photographs (paths, path, depth + 1);
      else if (g_str_has_suffix (folded, ".jpg") || g_str_has_suffix (folded, ".jpeg") ||
               g_str_has_suffix (folded, ".cr2") || g_str_has_suffix (folded, ".nef") ||
               g_str_has_suffix (folded, ".dng") || g_str_has_suffix (folded, ".orf") ||
               g_str_has_suffix (folded, ".raf") || g_str_has_suffix (folded, ".pef"))
        g_ptr_array_add (paths, g_steal_pointer (&path));
    }
}

static GPtrArray *
collect_photographs (void)
{
  static const char *const usual[] = { "/usr/share/backgrounds", "/usr/share/wallpapers", "/usr/share/images",
                                       "/usr/share/doc", NULL };
  const char *given = g_getenv ("TAPETUM_PHOTOS");
  g_auto (GStrv) more = g_strsplit (given != NULL ? given : "", ":", -1);
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; usual[i] != NULL; i++)
    find_photographs (paths, usual[i], 0);
  for (guint i = 0; more[i] != NULL; i++)
    if (*more[i] != '\0')
      find_photographs (paths, more[i], 0);
  return paths;
}

/* The second opinion's date by this program's rules. */
static char *
format_opinion (char **fields)
{
  TptReading reading;
  g_autofree char *why_not = NULL;
  g_autofree char *odd_offset = NULL;

  if (!tpt_exif_parse_date (g_str_equal (fields[0], "-") ? NULL : fields[0],
                            g_str_equal (fields[1], "-") ? NULL : fields[1],
                            g_str_equal (fields[2], "-") ? NULL : fields[2], &reading, &why_not, &odd_offset))
    return NULL;
  return tpt_reading_format (reading);
}

static gboolean
agree (const char *ours, const char *theirs)
{
  g_autofree char *trimmed = g_strstrip (g_strdup (theirs));

  return g_str_equal (trimmed, "-") || *trimmed == '\0' ? ours == NULL : g_strcmp0 (ours, trimmed) == 0;
}

/* TRUE when there was something to compare. */
static gboolean
compare_photograph (const char *path, char **fields)
{
  g_autoptr (TptExif) exif = tpt_exif_read (path, TPT_NO_INSTANT, NULL);
  g_autofree char *theirs = format_opinion (fields);
  g_autofree char *ours = NULL;

  if (theirs == NULL)
    return FALSE;
  g_test_message ("%s: %s %s", path, theirs, fields[3]);
  g_assert_nonnull (exif);
  ours = tpt_reading_format (exif->reading);
  g_assert_cmpstr (ours, ==, theirs);
  g_assert_true (agree (exif->make, fields[3]));
  g_assert_true (agree (exif->model, fields[4]));
  if (exif->orientation != 0)
    g_assert_cmpint (exif->orientation, ==, atoi (fields[5]));
  if (!isnan (exif->latitude))
    {
      /* exiftool prints 15 digits; the rationals are the same */
      g_assert_cmpfloat_with_epsilon (exif->latitude, g_ascii_strtod (fields[6], NULL), 1e-9);
      g_assert_cmpfloat_with_epsilon (exif->longitude, g_ascii_strtod (fields[7], NULL), 1e-9);
    }
  return TRUE;
}

static void
test_photographs (void)
{
  g_autoptr (GPtrArray) paths = NULL;
  g_autoptr (GString) arguments = g_string_new ("-q\n-m\n-n\n-T\n-f\n-ExifIFD:DateTimeOriginal\n"
                                                "-ExifIFD:SubSecTimeOriginal\n-ExifIFD:OffsetTimeOriginal\n"
                                                "-IFD0:Make\n-IFD0:Model\n-IFD0:Orientation\n"
                                                "-Composite:GPSLatitude\n-Composite:GPSLongitude\n"
                                                "-Directory\n-FileName\n");
  g_autofree char *folder = NULL;
  g_autofree char *output = NULL;
  g_auto (GStrv) lines = NULL;
  guint n_compared = 0;

  if (!has_exiftool ())
    return;
  folder = fixture_make_folder ();
  paths = collect_photographs ();
  for (guint i = 0; i < paths->len; i++)
    g_string_append_printf (arguments, "%s\n", (char *) g_ptr_array_index (paths, i));
  if (paths->len > 0)
    run_exiftool (folder, arguments->str, &output);
  fixture_remove_tree (folder);

  lines = g_strsplit (output != NULL ? output : "", "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) fields = g_strsplit (lines[i], "\t", -1);

      if (g_strv_length (fields) == 10)
        {
          g_autofree char *path = g_build_filename (fields[8], fields[9], NULL);

          n_compared += compare_photograph (path, fields);
        }
    }
  if (n_compared == 0)
    g_test_skip ("no photograph with a date is installed, and TAPETUM_PHOTOS names none");
  g_test_message ("%u photographs compared", n_compared);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  tpt_exif_init ();
  g_test_add_func ("/exif/dates", test_dates);
  g_test_add_func ("/exif/stamp", test_stamp);
  g_test_add_func ("/exif/no-exif", test_no_exif);
  g_test_add_func ("/exif/junk", test_junk);
  g_test_add_func ("/exif/written", test_written);
  g_test_add_func ("/exif/photographs", test_photographs);
  return g_test_run ();
}
