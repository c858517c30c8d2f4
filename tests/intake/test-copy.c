#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "intake-fixture.h"
#include "tpt-copy.h"
#include "tpt-error.h"

typedef struct {
  char *card;         /* (owned) */
  char *folder;       /* (owned) */
  char *source;       /* (owned) */
  char *destination;  /* (owned) */
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autofree guint8 *bytes = g_malloc (700001);

  for (guint i = 0; i < 700001; i++)
    bytes[i] = (guint8) (i * 2654435761u >> 13);
  f->card = fixture_make_folder ();
  f->folder = fixture_make_folder ();
  f->source = g_build_filename (f->card, "a.jpg", NULL);
  f->destination = g_build_filename (f->folder, "a.jpg", NULL);
  fixture_write (f->card, "a.jpg", bytes, 700001);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  tpt_fault_arm (0);
  fixture_remove_tree (f->card);
  fixture_remove_tree (f->folder);
  g_free (f->card);
  g_free (f->folder);
  g_free (f->source);
  g_free (f->destination);
}

static gboolean
copy (Fixture *f, gboolean *exists, GError **error)
{
  TptCopy *copying = tpt_copy_begin (f->source, f->folder, NULL, NULL, NULL, NULL, error);

  return copying != NULL && tpt_copy_finish (copying, f->destination, NULL, exists, error);
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

/* FIPS 180-4 with the examples of NIST's "SHA256.pdf": one block, two blocks. */
static void
test_known_hashes (Fixture *f, gconstpointer data)
{
  static const char *const cases[][2] = {
    { "abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" },
    { "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
      "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_build_filename (f->card, "text", NULL);
      char sha256[TPT_SHA256_SIZE];
      gint64 bytes;

      fixture_write (f->card, "text", cases[i][0], strlen (cases[i][0]));
      g_assert_true (tpt_copy_hash (path, TRUE, NULL, NULL, sha256, &bytes, NULL, NULL));
      g_assert_cmpstr (sha256, ==, cases[i][1]);
      g_assert_cmpint (bytes, ==, (gint64) strlen (cases[i][0]));
    }
}

static void
tap_cb (const guint8 *data, gsize length, gpointer user_data)
{
  g_checksum_update (user_data, data, length);
}

static void
test_copy (Fixture *f, gconstpointer data)
{
  struct timespec times[2] = { { 1000000000, 1 }, { 1234567890, 500000000 } };
  g_autoptr (GChecksum) seen = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree char *wanted = fixture_hash_file (f->source);
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autofree char *found = NULL;
  g_autoptr (GError) error = NULL;
  struct stat st;
  TptCopy *copying;

  g_assert_cmpint (utimensat (AT_FDCWD, f->source, times, 0), ==, 0);
  before = fixture_list_tree (f->card, TRUE);
  /* the listing itself has read the file */
  g_assert_cmpint (utimensat (AT_FDCWD, f->source, times, 0), ==, 0);
  copying = tpt_copy_begin (f->source, f->folder, tap_cb, seen, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (tpt_copy_get_sha256 (copying), ==, wanted);
  g_assert_cmpint (tpt_copy_get_bytes (copying), ==, 700001);
  g_assert_cmpstr (g_checksum_get_string (seen), ==, wanted);
  g_assert_false (g_file_test (f->destination, G_FILE_TEST_EXISTS));
  g_assert_true (tpt_copy_finish (copying, f->destination, NULL, NULL, &error));
  g_assert_no_error (error);

  /* The source's access time too: its owner reads it without leaving a trace. */
  g_assert_cmpint (lstat (f->source, &st), ==, 0);
  g_assert_cmpint (st.st_atim.tv_sec, ==, 1000000000);
  g_assert_cmpint (lstat (f->destination, &st), ==, 0);
  g_assert_cmpint (st.st_mtim.tv_sec, ==, 1234567890);
  found = fixture_hash_file (f->destination);
  g_assert_cmpstr (found, ==, wanted);
  after = fixture_list_tree (f->card, TRUE);
  g_assert_cmpstr (after, ==, before);
  g_assert_cmpuint (count_files (f->folder), ==, 1);
}

static void
test_never_overwrites (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *content = NULL;
  gboolean exists = FALSE;

  fixture_write (f->folder, "a.jpg", "precious", 8);
  g_assert_false (copy (f, &exists, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
  g_assert_true (exists);
  g_assert_true (g_file_get_contents (f->destination, &content, NULL, NULL));
  g_assert_cmpstr (content, ==, "precious");
  g_assert_cmpuint (count_files (f->folder), ==, 1);
}

/* The disk changes a byte between writing and reading back. */
static void
test_bad_disk (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  TptCopy *copying = tpt_copy_begin (f->source, f->folder, NULL, NULL, NULL, NULL, NULL);
  int fd = open (tpt_copy_get_path (copying), O_WRONLY);

  g_assert_cmpint (pwrite (fd, "?", 1, 4711), ==, 1);
  close (fd);
  g_assert_false (tpt_copy_finish (copying, f->destination, NULL, NULL, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
  g_assert_nonnull (strstr (error->message, "a.jpg"));
  g_assert_cmpuint (count_files (f->folder), ==, 0);
}

static void
test_source_failures (Fixture *f, gconstpointer data)
{
  static const char *const names[] = { "missing.jpg", "folder", "link" };
  g_autofree char *folder = g_build_filename (f->card, "folder", NULL);
  g_autofree char *link = g_build_filename (f->card, "link", NULL);

  g_assert_cmpint (g_mkdir (folder, 0755), ==, 0);
  g_assert_cmpint (symlink (f->source, link), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (f->card, names[i], NULL);
      g_autoptr (GError) error = NULL;
      gboolean source_failed = FALSE;

      g_assert_null (tpt_copy_begin (path, f->folder, NULL, NULL, NULL, &source_failed, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
      g_assert_nonnull (strstr (error->message, names[i]));
      g_assert_true (source_failed);
    }
  g_assert_cmpuint (count_files (f->folder), ==, 0);
}

/* No file may grow past 300,000 bytes: what a full disk looks like from here. */
static void
test_write_fails (Fixture *f, gconstpointer data)
{
  struct rlimit before, small;
  g_autoptr (GError) error = NULL;
  gboolean source_failed = TRUE;

  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  small = before;
  small.rlim_cur = 300000;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &small), ==, 0);
  g_assert_null (tpt_copy_begin (f->source, f->folder, NULL, NULL, NULL, &source_failed, &error));
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);

  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
  g_assert_nonnull (strstr (error->message, "a.jpg"));
  g_assert_false (source_failed);
  g_assert_cmpuint (count_files (f->folder), ==, 0);
}

static void
cancel_cb (const guint8 *data, gsize length, gpointer user_data)
{
  g_cancellable_cancel (user_data);
}

static void
test_cancel (Fixture *f, gconstpointer data)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  TptCopy *copying;

  g_assert_null (tpt_copy_begin (f->source, f->folder, cancel_cb, cancellable, cancellable, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&error);

  copying = tpt_copy_begin (f->source, f->folder, NULL, NULL, NULL, NULL, NULL);
  g_assert_false (tpt_copy_finish (copying, f->destination, cancellable, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (count_files (f->folder), ==, 0);
}

static void
test_clean (Fixture *f, gconstpointer data)
{
  TptCopy *running = tpt_copy_begin (f->source, f->folder, NULL, NULL, NULL, NULL, NULL);
  g_autofree char *missing = g_build_filename (f->folder, "missing", NULL);
  guint removed = 99;

  fixture_write (f->folder, ".tapetum-part-abc123", "half", 4);
  fixture_write (f->folder, "a.jpg", "whole", 5);
  g_assert_true (tpt_copy_clean (f->folder, &removed, NULL));
  g_assert_cmpuint (removed, ==, 1);
  g_assert_true (g_file_test (tpt_copy_get_path (running), G_FILE_TEST_EXISTS));
  g_assert_cmpuint (count_files (f->folder), ==, 2);

  g_assert_true (tpt_copy_discard (running, NULL));
  g_assert_true (tpt_copy_clean (f->folder, &removed, NULL));
  g_assert_cmpuint (removed, ==, 0);
  g_assert_cmpuint (count_files (f->folder), ==, 1);
  g_assert_true (tpt_copy_clean (missing, &removed, NULL));
}

static void
test_space (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (tpt_copy_check_space (f->folder, 1, NULL));
  g_assert_true (tpt_copy_check_space (f->folder, 0, NULL));
  g_assert_false (tpt_copy_check_space (f->folder, G_GINT64_CONSTANT (1) << 60, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
}

/* Each step fails once: the destination is whole or not there, and the next
 * try works. */
static void
test_every_step (Fixture *f, gconstpointer data)
{
  g_autofree char *wanted = fixture_hash_file (f->source);
  int steps;

  tpt_fault_arm (0);
  g_assert_true (copy (f, NULL, NULL));
  steps = tpt_fault_count ();
  /* open twice, three blocks, sync, read back (another open is the lock's), rename */
  g_assert_cmpint (steps, >=, 8);

  for (int i = 1; i <= steps; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *found = NULL;

      g_remove (f->destination);
      tpt_fault_arm (i);
      g_assert_false (copy (f, NULL, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      g_assert_cmpuint (count_files (f->folder), ==, 0);

      tpt_fault_arm (0);
      g_assert_true (copy (f, NULL, NULL));
      found = fixture_hash_file (f->destination);
      g_assert_cmpstr (found, ==, wanted);
    }
}

int
main (int argc, char **argv)
{
  static const struct { const char *name; void (*test) (Fixture *, gconstpointer); } tests[] = {
    { "/copy/known-hashes", test_known_hashes }, { "/copy/copy", test_copy },
    { "/copy/never-overwrites", test_never_overwrites }, { "/copy/bad-disk", test_bad_disk },
    { "/copy/source-failures", test_source_failures }, { "/copy/write-fails", test_write_fails },
    { "/copy/cancel", test_cancel }, { "/copy/clean", test_clean }, { "/copy/space", test_space },
    { "/copy/every-step", test_every_step },
  };

  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].name, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
