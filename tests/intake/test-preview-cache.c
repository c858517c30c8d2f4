/* Small pictures on disk: found again, bounded, replaced when damaged, shared,
 * and never in the way. */
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "intake-fixture.h"
#include "tpt-error.h"
#include "tpt-preview-cache-private.h"

typedef struct {
  char *folder; /* (owned) */
  char *cache;  /* (owned): in it, not there yet */
} Fixture;

static void
set_up (Fixture *f, gconstpointer unused)
{
  f->folder = fixture_make_folder ();
  f->cache = g_build_filename (f->folder, "tapetum", "previews", NULL);
}

static void
tear_down (Fixture *f, gconstpointer unused)
{
  fixture_remove_tree (f->folder);
  g_free (f->folder);
  g_free (f->cache);
}

/* (transfer full): the same for the same @seed; some 10 kB as a JPEG. */
static TptPixels *
draw (guint seed)
{
  TptPixels *pixels = tpt_pixels_new (160, 120);

  for (int i = 0; i < 3 * 160 * 120; i++)
    pixels->data[i] = (guint8) ((i / 3 % 160 + seed * 11) * (1 + i % 3) + (i * 7919 >> 3) % 32);
  pixels->full_width = 4000 + (int) seed;
  pixels->full_height = 3000;
  return pixels;
}

static char *
make_key (guint number)
{
  g_autofree char *text = g_strdup_printf ("picture %u", number);

  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);
}

static void
keep (TptPreviewCache *cache, guint number, int size)
{
  g_autofree char *key = make_key (number);
  g_autoptr (TptPixels) pixels = draw (number);

  tpt_preview_cache_keep (cache, key, size, pixels);
}

static gboolean
has (TptPreviewCache *cache, guint number, int size)
{
  g_autofree char *key = make_key (number);
  g_autoptr (TptPixels) pixels = tpt_preview_cache_find (cache, key, size);

  if (pixels != NULL)
    g_assert_cmpint (pixels->full_width, ==, 4000 + (int) number);
  return pixels != NULL;
}

/* (transfer full): where it lies. */
static char *
find_file (Fixture *f, guint number, int size)
{
  g_autofree char *key = make_key (number);

  return g_strdup_printf ("%s/%.2s/%s-%d.preview", f->cache, key, key, size);
}

static guint64
sum_tree (const char *path)
{
  g_autoptr (GDir) dir = g_file_test (path, G_FILE_TEST_IS_DIR) ? g_dir_open (path, 0, NULL) : NULL;
  const char *name;
  guint64 bytes = 0;
  struct stat st;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      bytes += sum_tree (child);
    }
  return dir == NULL && lstat (path, &st) == 0 ? (guint64) st.st_size : bytes;
}

static void
test_again (Fixture *f, gconstpointer unused)
{
  g_autoptr (TptPixels) made = draw (1);
  g_autofree char *key = make_key (1);
  g_autofree char *upper = g_ascii_strup (key, -1);
  g_autofree char *path = find_file (f, 1, 320);
  struct stat st;

  for (guint round = 0; round < 2; round++)
    {
      g_autoptr (TptPreviewCache) cache = tpt_preview_cache_new (f->cache, 0);
      g_autoptr (TptPixels) found = NULL;
      double difference = 0;

      g_assert_cmpint (has (cache, 1, 320), ==, round == 1);
      tpt_preview_cache_keep (cache, key, 320, made);
      found = tpt_preview_cache_find (cache, upper, 320);
      g_assert_cmpint (found->width, ==, 160);
      g_assert_cmpint (found->height, ==, 120);
      g_assert_cmpint (found->full_width, ==, 4001);
      g_assert_cmpint (found->full_height, ==, 3000);
      for (int i = 0; i < 3 * 160 * 120; i++)
        difference += ABS (found->data[i] - made->data[i]);
      /* a JPEG of noise at quality 85, colours at half the width and height */
      g_assert_cmpfloat (difference / (3 * 160 * 120), <, 25);
      g_assert_false (has (cache, 1, 200));
      g_assert_false (has (cache, 2, 320));
      g_assert_cmpuint (tpt_preview_cache_get_bytes (cache), >=, sum_tree (f->cache));
    }
  /* it is nobody else's business what the user looks at */
  g_assert_cmpint (stat (path, &st), ==, 0);
  g_assert_cmpint (st.st_mode & 0777, ==, 0600);
  g_assert_cmpint (stat (f->cache, &st), ==, 0);
  g_assert_cmpint (st.st_mode & 0777, ==, 0700);
}

static void
test_not_kept (Fixture *f, gconstpointer unused)
{
  static const struct {
    const char *key; /* NULL: a good one */
    int size;
    gboolean partial;
  } cases[] = {
    { NULL, 0, FALSE },
    { NULL, 513, FALSE },
    { NULL, 2048, FALSE },
    { NULL, 320, TRUE },
    { "", 320, FALSE },
    { "photo/IMG_0001.JPG", 320, FALSE },
    { "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcde", 320, FALSE },
    { "../456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef..", 320, FALSE },
    { "../3456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef", 320, FALSE },
  };
  g_autoptr (TptPreviewCache) cache = tpt_preview_cache_new (f->cache, 0);
  g_autofree char *good = make_key (1);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *key = cases[i].key != NULL ? cases[i].key : good;
      g_autoptr (TptPixels) pixels = draw (1);

      pixels->partial = cases[i].partial;
      tpt_preview_cache_keep (cache, key, cases[i].size, pixels);
      g_assert_null (tpt_preview_cache_find (cache, key, cases[i].size));
    }
  g_assert_cmpuint (sum_tree (f->folder), ==, 0);
}

/* Any byte of the file changed, or any part of it missing. */
static void
test_damaged (Fixture *f, gconstpointer unused)
{
  g_autoptr (TptPreviewCache) cache = tpt_preview_cache_new (f->cache, 0);
  g_autofree char *path = find_file (f, 1, 320);
  g_autofree char *content = NULL;
  gsize length;

  keep (cache, 1, 320);
  g_assert_true (g_file_get_contents (path, &content, &length, NULL));
  for (gsize i = 0; i < length; i += i < 120 ? 1 : 97)
    {
      g_autofree char *damaged = g_memdup2 (content, length);

      damaged[i] ^= 0x20;
      g_assert_null (tpt_preview_cache_unpack ((guint8 *) damaged, length));
      g_assert_null (tpt_preview_cache_unpack ((guint8 *) content, i));
    }

  g_assert_true (g_file_set_contents (path, content, (gssize) length / 2, NULL));
  g_assert_false (has (cache, 1, 320));
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  keep (cache, 1, 320);
  g_assert_true (has (cache, 1, 320));
}

/* Thousands of different pictures never take more than the bound. */
static void
test_bound (Fixture *f, gconstpointer unused)
{
  const guint64 most = 400 * 1000;
  g_autoptr (TptPreviewCache) cache = tpt_preview_cache_new (f->cache, most);
  guint n_found = 0;

  for (guint i = 0; i < 2000; i++)
    {
      keep (cache, i, 320);
      g_assert_true (has (cache, i, 320));
      g_assert_cmpuint (tpt_preview_cache_get_bytes (cache), <=, most);
      if (i % 20 == 0)
        g_assert_cmpuint (sum_tree (f->cache), <=, most);
    }
  g_assert_cmpuint (sum_tree (f->cache), >, most / 2);
  for (guint i = 0; i < 2000; i++)
    n_found += has (cache, i, 320);
  g_assert_cmpuint (n_found, >, 10);
}

/* What is looked at stays, what is not goes; nothing of others is touched. */
static void
test_least_recently_used (Fixture *f, gconstpointer unused)
{
  g_autoptr (TptPreviewCache) cache = tpt_preview_cache_new (f->cache, 400 * 1000);
  g_autofree char *foreign = g_build_filename (f->cache, "00", "notes.txt", NULL);
  g_autofree char *foreign_folder = g_path_get_dirname (foreign);
  g_autofree char *left_behind = g_strconcat (foreign_folder, "/x-320.preview.AbCdEf", NULL);
  const struct timespec long_ago[] = { { .tv_sec = 1000000000 }, { .tv_sec = 1000000000 } };

  g_mkdir_with_parents (foreign_folder, 0700);
  g_assert_true (g_file_set_contents (foreign, "mine", -1, NULL));
  g_assert_true (g_file_set_contents (left_behind, "half", -1, NULL));
  g_assert_cmpint (utimensat (AT_FDCWD, foreign, long_ago, 0), ==, 0);
  g_assert_cmpint (utimensat (AT_FDCWD, left_behind, long_ago, 0), ==, 0);
  for (guint i = 0; i < 300; i++)
    {
      keep (cache, i, 320);
      g_assert_true (has (cache, 0, 320));
    }
  g_assert_false (has (cache, 1, 320));
  g_assert_true (g_file_test (foreign, G_FILE_TEST_EXISTS));
  g_assert_false (g_file_test (left_behind, G_FILE_TEST_EXISTS));
}

/* Two programs, as far as the files are concerned: neither knows of the other. */
static gpointer
use_cache_cb (gpointer data)
{
  Fixture *f = data;
  g_autoptr (TptPreviewCache) cache = tpt_preview_cache_new (f->cache, 400 * 1000);

  for (guint i = 0; i < 600; i++)
    {
      keep (cache, i % 200, 320);
      has (cache, (i + 50) % 200, 320);
    }
  return NULL;
}

static void
test_shared (Fixture *f, gconstpointer unused)
{
  GThread *threads[3];

  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("program", use_cache_cb, f);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_thread_join (threads[i]);
  /* a sixteenth each over the bound, as is said */
  g_assert_cmpuint (sum_tree (f->cache), <=, 400 * 1000 * 19 / 16);
}

/* One program, several threads. */
typedef struct {
  TptPreviewCache *cache;
  guint first;
} Share;

static gpointer
keep_many_cb (gpointer data)
{
  Share *share = data;

  for (guint i = 0; i < 200; i++)
    keep (share->cache, share->first + i, 320);
  return NULL;
}

static void
test_threads (Fixture *f, gconstpointer unused)
{
  g_autoptr (TptPreviewCache) cache = tpt_preview_cache_new (f->cache, 400 * 1000);
  Share shares[] = { { cache, 0 }, { cache, 1000 }, { cache, 100 }, { cache, 2000 } };
  GThread *threads[G_N_ELEMENTS (shares)];

  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("keeps", keep_many_cb, &shares[i]);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_thread_join (threads[i]);
  g_assert_cmpuint (sum_tree (f->cache), <=, 400 * 1000);
  g_assert_cmpuint (sum_tree (f->cache), >, 100 * 1000);
}

static void
test_folder_trouble (Fixture *f, gconstpointer unused)
{
  g_autoptr (TptPreviewCache) cache = tpt_preview_cache_new (f->cache, 0);
  g_autofree char *file = g_build_filename (f->folder, "file", NULL);
  g_autofree char *below = g_build_filename (file, "previews", NULL);
  g_autoptr (TptPreviewCache) nowhere = tpt_preview_cache_new (below, 0);
  g_autoptr (TptPreviewCache) tiny = tpt_preview_cache_new (f->cache, 1);

  /* deleted while in use */
  for (guint i = 0; i < 5; i++)
    {
      keep (cache, i, 320);
      g_assert_true (has (cache, i, 320));
      fixture_remove_tree (f->cache);
      g_assert_false (has (cache, i, 320));
    }
  /* it cannot be made; not even root makes a folder in a file */
  g_assert_true (g_file_set_contents (file, "", -1, NULL));
  keep (nowhere, 1, 320);
  g_assert_false (has (nowhere, 1, 320));
  g_assert_cmpuint (tpt_preview_cache_get_bytes (nowhere), ==, 0);
  /* there is no room for one */
  keep (tiny, 1, 320);
  g_assert_false (has (tiny, 1, 320));

  /* the step of writing fails on purpose */
  tpt_fault_arm (1);
  keep (cache, 1, 320);
  tpt_fault_arm (0);
  g_assert_false (has (cache, 1, 320));
  keep (cache, 1, 320);
  g_assert_true (has (cache, 1, 320));
}

#define ADD(name, function) g_test_add ("/preview-cache/" name, Fixture, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("again", test_again);
  ADD ("not-kept", test_not_kept);
  ADD ("damaged", test_damaged);
  ADD ("bound", test_bound);
  ADD ("least-recently-used", test_least_recently_used);
  ADD ("shared", test_shared);
  ADD ("threads", test_threads);
  ADD ("folder-trouble", test_folder_trouble);
  return g_test_run ();
}
