#include <glib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "intake-fixture.h"
#include "tpt-error.h"
#include "tpt-scan.h"

typedef struct {
  const char *name;
  TptScanKind kind;
} NameCase;

static const NameCase name_cases[] = {
  { "a.jpg", TPT_SCAN_JPEG },        { "A.JPG", TPT_SCAN_JPEG },   { "DCIM/100/a.JpEg", TPT_SCAN_JPEG },
  { "a.cr2", TPT_SCAN_RAW },         { "a.CR3", TPT_SCAN_RAW },    { "a.Nef", TPT_SCAN_RAW },
  { "a.arw", TPT_SCAN_RAW },         { "a.dng", TPT_SCAN_RAW },    { "a.orf", TPT_SCAN_RAW },
  { "a.raf", TPT_SCAN_RAW },         { "a.rw2", TPT_SCAN_RAW },    { "a.pef", TPT_SCAN_RAW },
  { "a.srw", TPT_SCAN_RAW },         { "a.MP4", TPT_SCAN_CLIP },   { "a.avi", TPT_SCAN_CLIP },
  { "a.MOV", TPT_SCAN_CLIP },        { "a.txt", TPT_SCAN_OTHER },  { "a", TPT_SCAN_OTHER },
  { "x.jpg/a", TPT_SCAN_OTHER },     { "a.jpg.txt", TPT_SCAN_OTHER }, { "a.", TPT_SCAN_OTHER },
  { "a.b.jpg", TPT_SCAN_JPEG },      { "", TPT_SCAN_OTHER },
};

static void
test_names (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (name_cases); i++)
    {
      g_test_message ("%s", name_cases[i].name);
      g_assert_cmpint (tpt_scan_kind_from_name (name_cases[i].name), ==, name_cases[i].kind);
    }
}

typedef struct {
  const char *bytes;
  gsize length;
  TptScanKind kind;
} ContentCase;

static const ContentCase content_cases[] = {
  { "\xff\xd8\xff\xe1", 4, TPT_SCAN_JPEG },
  { "\xff\xd8", 2, TPT_SCAN_OTHER },
  { "II*\0\x10\0\0\0", 8, TPT_SCAN_RAW },
  { "MM\0*\0\0\0\x08", 8, TPT_SCAN_RAW },
  { "\0\0\0\x18" "ftypcrx ", 12, TPT_SCAN_RAW },
  { "\0\0\0\x18" "ftypmp42", 12, TPT_SCAN_CLIP },
  { "RIFF....AVI LIST", 16, TPT_SCAN_CLIP },
  { "RIFF....WAVEfmt ", 16, TPT_SCAN_OTHER },
  { "G@\0\x10\0\0", 6, TPT_SCAN_CLIP },
  { "\xff\xff\xff\xff\xff\xff\xff\xff", 8, TPT_SCAN_OTHER },
  { "\0\0\0\0\0\0\0\0", 8, TPT_SCAN_OTHER },
  { "\x89PNG\r\n\x1a\n", 8, TPT_SCAN_OTHER },
  { "", 0, TPT_SCAN_OTHER },
};

static void
test_content (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (content_cases); i++)
    {
      g_test_message ("case %u", i);
      g_assert_cmpint (tpt_scan_kind_from_content ((const guint8 *) content_cases[i].bytes, content_cases[i].length),
                       ==, content_cases[i].kind);
    }
}

/* In their order: every pair is compared, both ways. */
static const char *const ordered[] = {
  "", "IMG_1.JPG", "IMG_01.JPG.x", "IMG_2.JPG", "IMG_09.JPG", "IMG_9.JPG", "IMG_10.JPG", "IMG_10a.JPG",
  "IMG_99999999999999999999998.JPG", "IMG_99999999999999999999999.JPG", "IMG_100000000000000000000000.JPG",
  "a/1", "a/2/1", "a/10", "a b/1", "a-/1", "ab", "b", "\xff",
};

static int
sign (int value)
{
  return (value > 0) - (value < 0);
}

static void
test_order (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (ordered); i++)
    for (guint j = 0; j < G_N_ELEMENTS (ordered); j++)
      {
        g_test_message ("%s, %s", ordered[i], ordered[j]);
        g_assert_cmpint (sign (tpt_scan_compare_paths (ordered[i], ordered[j])), ==, sign ((int) i - (int) j));
      }
}

static void
make_card (const char *card)
{
  static const char *const files[] = {
    "DCIM/100MEDIA/IMG_10.JPG", "DCIM/100MEDIA/IMG_9.JPG", "DCIM/100MEDIA/IMG_9.THM", "DCIM/100MEDIA/clip.MP4",
    "DCIM/100MEDIA/raw.CR2", "DCIM/100MEDIA/odd\xff\xfe name.jpg", "DCIM/100MEDIA/line\nbreak.jpg",
    "DCIM/100MEDIA/..jpg", "Thumbs.db", ".Trash-1000/files/gone.jpg", "System Volume Information/x.jpg",
    "MISC/AUTPRINT.MRK", "notes.odt", "NOEXT2",
  };
  g_autofree char *link = g_build_filename (card, "DCIM/100MEDIA/link.jpg", NULL);
  g_autofree char *loop = g_build_filename (card, "DCIM/loop", NULL);
  g_autofree char *pipe = g_build_filename (card, "DCIM/pipe.jpg", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    fixture_write (card, files[i], "xyz", 3);
  fixture_write (card, "NOEXT1", "\xff\xd8\xff\xe0", 4);
  g_assert_cmpint (symlink ("/etc/passwd", link), ==, 0);
  g_assert_cmpint (symlink (".", loop), ==, 0);
  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
}

static const char *const expected_frames[] = {
  "DCIM/100MEDIA/IMG_9.JPG", "DCIM/100MEDIA/IMG_10.JPG", "DCIM/100MEDIA/clip.MP4", "DCIM/100MEDIA/line\nbreak.jpg",
  "DCIM/100MEDIA/odd\xff\xfe name.jpg", "DCIM/100MEDIA/raw.CR2", "NOEXT1",
};

static const char *const expected_others[] = {
  ".Trash-1000/", "DCIM/100MEDIA/..jpg", "DCIM/100MEDIA/IMG_9.THM", "DCIM/100MEDIA/link.jpg", "DCIM/loop",
  "DCIM/pipe.jpg", "MISC/AUTPRINT.MRK", "NOEXT2", "System Volume Information/", "Thumbs.db", "notes.odt",
};

static void
check_paths (const GPtrArray *files, const char *const *expected, guint n)
{
  g_assert_cmpuint (files->len, ==, n);
  for (guint i = 0; i < n; i++)
    {
      const TptScanFile *file = g_ptr_array_index (files, i);

      g_assert_cmpstr (file->path, ==, expected[i]);
    }
}

static void
test_card (void)
{
  g_autofree char *card = fixture_make_folder ();
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (TptScan) scan = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *pipe = g_build_filename (card, "DCIM/pipe.jpg", NULL);

  make_card (card);
  before = fixture_list_tree (card, TRUE);
  scan = tpt_scan_card (card, NULL, &error);
  g_assert_no_error (error);
  check_paths (scan->frames, expected_frames, G_N_ELEMENTS (expected_frames));
  check_paths (scan->others, expected_others, G_N_ELEMENTS (expected_others));
  g_assert_cmpuint (scan->n_clips, ==, 1);
  g_assert_cmpint (scan->bytes, ==, 6 * 3 + 4);
  for (guint i = 0; i < scan->others->len; i++)
    {
      const TptScanFile *file = g_ptr_array_index (scan->others, i);

      g_assert_nonnull (file->why);
      g_assert_false (file->failed);
    }

  after = fixture_list_tree (card, TRUE);
  g_assert_cmpstr (before, ==, after);
  fixture_remove_tree (card);
}

static void
test_deep (void)
{
  g_autofree char *card = fixture_make_folder ();
  g_autoptr (GString) path = g_string_new (NULL);
  g_autoptr (TptScan) scan = NULL;

  for (guint i = 0; i < 60; i++)
    {
      fixture_write (card, path->len > 0 ? path->str : "x.jpg", "x", 1);
      g_string_truncate (path, path->len > 5 ? path->len - 5 : 0);
      g_string_append (path, "d/x.jpg");
    }
  scan = tpt_scan_card (card, NULL, NULL);
  g_assert_cmpuint (scan->frames->len, ==, 33);
  g_assert_cmpuint (scan->others->len, ==, 1);
  fixture_remove_tree (card);
}

static void
test_failures (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autofree char *card = fixture_make_folder ();
  g_autofree char *missing = g_build_filename (card, "missing", NULL);

  g_assert_null (tpt_scan_card (missing, NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
  g_clear_error (&error);

  fixture_write (card, "a/b.jpg", "x", 1);
  g_cancellable_cancel (cancellable);
  g_assert_null (tpt_scan_card (card, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  fixture_remove_tree (card);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/scan/names", test_names);
  g_test_add_func ("/scan/content", test_content);
  g_test_add_func ("/scan/order", test_order);
  g_test_add_func ("/scan/card", test_card);
  g_test_add_func ("/scan/deep", test_deep);
  g_test_add_func ("/scan/failures", test_failures);
  return g_test_run ();
}
