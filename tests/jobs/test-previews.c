/* The queue, the two memories and the manners of TptPreviews. Pictures are made
 * here; what is in them is tested in tests/intake. */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "tpt-error.h"
#include "tpt-previews-private.h"

typedef struct {
  char *folder;  /* (owned) */
  char *picture; /* (owned): 400 by 300 */
  char *cache;   /* (owned): for the disk cache; not there yet */
  TptPreviews *previews;
} Fixture;

static void
write_jpeg (const char *path, int width, int height, guint seed)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  guchar *pixels = gdk_pixbuf_get_pixels (pixbuf);
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < gdk_pixbuf_get_byte_length (pixbuf); i++)
    pixels[i] = (guchar) ((i * 7 + seed * 31 + (i >> 9)) ^ (i >> 5));
  gdk_pixbuf_save (pixbuf, path, "jpeg", &error, "quality", "85", NULL);
  g_assert_no_error (error);
}

static void
set_up (Fixture *fixture, gconstpointer unused)
{
  fixture->folder = g_dir_make_tmp ("previews-XXXXXX", NULL);
  fixture->picture = g_build_filename (fixture->folder, "a.jpg", NULL);
  fixture->cache = g_build_filename (fixture->folder, "cache", NULL);
  write_jpeg (fixture->picture, 400, 300, 1);
  fixture->previews = tpt_previews_new (fixture->cache, 0, 0);
}

static guint64
remove_tree (const char *path, gboolean count_only)
{
  g_autoptr (GDir) dir = g_file_test (path, G_FILE_TEST_IS_DIR) ? g_dir_open (path, 0, NULL) : NULL;
  const char *name;
  guint64 bytes = 0;
  struct stat st;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      bytes += remove_tree (child, count_only);
    }
  if (dir == NULL && lstat (path, &st) == 0)
    bytes = st.st_size;
  if (!count_only)
    g_remove (path);
  return bytes;
}

static void
tear_down (Fixture *fixture, gconstpointer unused)
{
  g_clear_object (&fixture->previews);
  remove_tree (fixture->folder, FALSE);
  g_free (fixture->folder);
  g_free (fixture->picture);
  g_free (fixture->cache);
}

/* One request and what became of it. */
typedef struct {
  guint number;
  guint *n_done;  /* shared: how many came back */
  guint position; /* this one came back as; from 1, 0 for not yet */
  TptPicture *picture;
  GError *error;
} Answer;

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Answer *answer = data;

  g_assert_cmpuint (answer->position, ==, 0);
  answer->picture = tpt_previews_load_finish (TPT_PREVIEWS (source), result, &answer->error);
  g_assert_true ((answer->picture == NULL) == (answer->error != NULL));
  answer->position = ++*answer->n_done;
}

static Answer *
new_answers (guint n, guint *n_done)
{
  Answer *answers = g_new0 (Answer, n);

  *n_done = 0;
  for (guint i = 0; i < n; i++)
    answers[i] = (Answer) { .number = i, .n_done = n_done };
  return answers;
}

static void
free_answers (Answer *answers, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      g_clear_pointer (&answers[i].picture, tpt_picture_unref);
      g_clear_error (&answers[i].error);
    }
  g_free (answers);
}

static void
wait_for (const guint *n_done, guint n)
{
  while (*n_done < n)
    g_main_context_iteration (NULL, TRUE);
}

/* (transfer full) (nullable): waits. */
static TptPicture *
load (TptPreviews *previews, const char *path, const char *key, int size, GError **error)
{
  guint n_done;
  Answer *answer = new_answers (1, &n_done);
  TptPicture *picture;

  tpt_previews_load_async (previews, path, key, size, NULL, loaded_cb, answer);
  g_assert_cmpuint (n_done, ==, 0);
  wait_for (&n_done, 1);
  picture = g_steal_pointer (&answer->picture);
  if (answer->error != NULL)
    g_propagate_error (error, g_steal_pointer (&answer->error));
  free_answers (answer, 1);
  return picture;
}

static char *
make_key (guint number)
{
  g_autofree char *text = g_strdup_printf ("picture %u", number);

  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);
}

static void
test_load (Fixture *fixture, gconstpointer unused)
{
  static const struct {
    int size, width, height;
  } cases[] = { { 320, 320, 240 }, { 100, 100, 75 }, { 400, 400, 300 }, { 2048, 400, 300 }, { 0, 400, 300 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptPicture) before = tpt_previews_peek (fixture->previews, fixture->picture, "k", cases[i].size);
      g_autoptr (TptPicture) picture = load (fixture->previews, fixture->picture, "k", cases[i].size, &error);
      g_autoptr (TptPicture) again = load (fixture->previews, fixture->picture, "k", cases[i].size, &error);
      g_autoptr (TptPicture) peeked = tpt_previews_peek (fixture->previews, fixture->picture, "k", cases[i].size);

      g_assert_no_error (error);
      g_assert_null (before);
      g_assert_cmpint (picture->width, ==, cases[i].width);
      g_assert_cmpint (picture->height, ==, cases[i].height);
      g_assert_cmpint (picture->full_width, ==, 400);
      g_assert_cmpint (picture->full_height, ==, 300);
      g_assert_cmpint (picture->stride, >=, 3 * picture->width);
      g_assert_cmpuint (g_bytes_get_size (picture->pixels), ==, (gsize) picture->stride * picture->height);
      g_assert_true (picture == again && picture == peeked);
    }
}

static void
test_errors (Fixture *fixture, gconstpointer unused)
{
  static const struct {
    const char *name;
    const char *content; /* NULL: not there */
    int code;
  } cases[] = {
    { "gone.jpg", NULL, TPT_ERROR_IO },
    { "clip.avi", "RIFF....AVI ", TPT_ERROR_DATA },
    { "clip.mp4", "anything", TPT_ERROR_DATA },
    { "notes.jpg", "These are words, not a picture.", TPT_ERROR_DATA },
    { "empty.jpg", "", TPT_ERROR_DATA },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_build_filename (fixture->folder, cases[i].name, NULL);
      g_autoptr (GError) error = NULL;

      if (cases[i].content != NULL)
        g_assert_true (g_file_set_contents (path, cases[i].content, -1, NULL));
      g_assert_null (load (fixture->previews, path, path, 320, &error));
      g_assert_error (error, TPT_ERROR, cases[i].code);
    }
}

/* Several who wait for the same picture get the very same one. */
static void
test_shared (Fixture *fixture, gconstpointer unused)
{
  guint n_done;
  Answer *answers = new_answers (20, &n_done);

  for (guint i = 0; i < 20; i++)
    tpt_previews_load_async (fixture->previews, fixture->picture, "k", 320, NULL, loaded_cb, &answers[i]);
  wait_for (&n_done, 20);
  for (guint i = 0; i < 20; i++)
    g_assert_true (answers[i].picture == answers[0].picture);
  free_answers (answers, 20);
}

/* Of a line of pictures the last asked for is among the first to come. */
static void
test_newest_first (Fixture *fixture, gconstpointer unused)
{
  guint n = 60, n_done;
  Answer *answers = new_answers (n, &n_done);
  g_autofree char *large = g_build_filename (fixture->folder, "large.jpg", NULL);

  write_jpeg (large, 1600, 1200, 2);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *key = g_strdup_printf ("%u", i);

      tpt_previews_load_async (fixture->previews, large, key, 0, NULL, loaded_cb, &answers[i]);
    }
  wait_for (&n_done, n);
  g_assert_cmpuint (answers[n - 1].position, <, n / 2);
  g_assert_cmpuint (answers[n / 4].position, >, n / 2);
  free_answers (answers, n);
}

/* The same, step by step. */
static void
test_line (void)
{
  TptPreviewLine line;
  TptPreviewWish *wish, *ahead;
  GString *order = g_string_new (NULL);

  tpt_preview_line_init (&line);
  tpt_preview_line_want (&line, "x", "x", "x", 1, TRUE);
  tpt_preview_line_want (&line, "y", "y", "y", 1, TRUE);
  tpt_preview_line_want (&line, "z", "z", "z", 1, TRUE);
  tpt_preview_line_want (&line, "a", "a", "a", 1, FALSE);
  tpt_preview_line_want (&line, "b", "b", "b", 1, FALSE);
  tpt_preview_line_want (&line, "c", "c", "c", 1, FALSE);
  tpt_preview_line_want (&line, "a", "a", "a", 1, FALSE);
  tpt_preview_line_want (&line, "c", "c", "c", 1, TRUE); /* no step back */
  tpt_preview_line_want (&line, "y", "y", "y", 1, FALSE);

  while ((wish = tpt_preview_line_take (&line, 1)) != NULL && !wish->ahead)
    {
      g_string_append (order, wish->name);
      tpt_preview_line_end (&line, wish);
    }
  g_assert_cmpstr (order->str, ==, "yacb");

  /* One ahead runs, and another may not; until somebody waits for the first. */
  ahead = wish;
  g_assert_cmpstr (ahead->name, ==, "x");
  g_assert_null (tpt_preview_line_take (&line, 1));
  g_assert_true (tpt_preview_line_want (&line, "x", "x", "x", 1, FALSE) == ahead);
  wish = tpt_preview_line_take (&line, 1);
  g_assert_cmpstr (wish->name, ==, "z");
  tpt_preview_line_end (&line, ahead);
  g_assert_null (tpt_preview_line_take (&line, 1));
  tpt_preview_line_end (&line, wish);
  g_assert_cmpuint (line.n_ahead, ==, 0);
  g_assert_cmpuint (g_hash_table_size (line.wishes), ==, 0);

  tpt_preview_line_want (&line, "x", "x", "x", 1, TRUE);
  tpt_preview_line_forget_ahead (&line);
  g_assert_null (tpt_preview_line_take (&line, 1));
  tpt_preview_line_clear (&line);
  g_string_free (order, TRUE);
}

static void
test_cancel (Fixture *fixture, gconstpointer unused)
{
  guint n = 60, n_done, n_made = 0;
  Answer *answers = new_answers (n, &n_done);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autofree char *large = g_build_filename (fixture->folder, "large.jpg", NULL);

  write_jpeg (large, 1600, 1200, 2);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *key = g_strdup_printf ("%u", i);

      tpt_previews_load_async (fixture->previews, large, key, 0, i % 2 == 0 ? cancellable : NULL, loaded_cb, &answers[i]);
    }
  g_cancellable_cancel (cancellable);
  g_assert_cmpuint (n_done, ==, 0);
  wait_for (&n_done, n);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *key = g_strdup_printf ("%u", i);
      g_autoptr (TptPicture) picture = tpt_previews_peek (fixture->previews, large, key, 0);

      if (i % 2 != 0)
        g_assert_no_error (answers[i].error);
      else
        g_assert_error (answers[i].error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
      n_made += i % 2 == 0 && picture != NULL;
    }
  /* those that threads were at already */
  g_assert_cmpuint (n_made, <, n / 4);
  free_answers (answers, n);
}

/* One of two who wait leaves; the other still gets it. And too late is too late. */
static void
test_cancel_one (Fixture *fixture, gconstpointer unused)
{
  guint n_done;
  Answer *answers = new_answers (4, &n_done);
  g_autoptr (GCancellable) first = g_cancellable_new ();
  g_autoptr (GCancellable) late = g_cancellable_new ();

  tpt_previews_load_async (fixture->previews, fixture->picture, "k", 320, first, loaded_cb, &answers[0]);
  tpt_previews_load_async (fixture->previews, fixture->picture, "k", 320, late, loaded_cb, &answers[1]);
  g_cancellable_cancel (first);
  wait_for (&n_done, 2);
  g_assert_error (answers[0].error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_no_error (answers[1].error);
  g_cancellable_cancel (late);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_cmpuint (n_done, ==, 2);

  /* cancelled before it is asked; in memory or not */
  tpt_previews_load_async (fixture->previews, fixture->picture, "k", 320, first, loaded_cb, &answers[2]);
  tpt_previews_load_async (fixture->previews, fixture->picture, "other", 320, first, loaded_cb, &answers[3]);
  wait_for (&n_done, 4);
  g_assert_error (answers[2].error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_error (answers[3].error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  free_answers (answers, 4);
}

/* Whoever gave up is not held on to, whether in line or being worked on. */
static void
test_cancel_lets_go (Fixture *fixture, gconstpointer unused)
{
  gpointer held[8];

  for (guint i = 0; i < G_N_ELEMENTS (held); i++)
    {
      g_autofree char *key = make_key (i);
      g_autoptr (GCancellable) cancellable = g_cancellable_new ();
      guint n_done;
      Answer *answer = new_answers (1, &n_done);

      held[i] = cancellable;
      g_object_add_weak_pointer (G_OBJECT (cancellable), &held[i]);
      tpt_previews_load_async (fixture->previews, fixture->picture, key, 100, cancellable, loaded_cb, answer);
      g_cancellable_cancel (cancellable);
      wait_for (&n_done, 1);
      g_assert_error (answer->error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
      free_answers (answer, 1);
    }
  while (g_main_context_iteration (NULL, FALSE))
    ;
  for (guint i = 0; i < G_N_ELEMENTS (held); i++)
    g_assert_null (held[i]);
}

/* Pictures from several main contexts at once, some of them cancelled; the same
 * few keys, so that they get in each other's way. */
static gpointer
load_in_thread_cb (gpointer data)
{
  Fixture *fixture = data;
  g_autoptr (GMainContext) context = g_main_context_new ();
  guint n_done;
  Answer *answers = new_answers (300, &n_done);

  g_main_context_push_thread_default (context);
  for (guint i = 0; i < 300; i++)
    {
      g_autoptr (GCancellable) cancellable = g_cancellable_new ();
      g_autofree char *key = g_strdup_printf ("%u", i * 7 % 23);

      tpt_previews_load_async (fixture->previews, fixture->picture, key, 64 + i % 3, cancellable, loaded_cb, &answers[i]);
      if (i % 3 == 0)
        g_cancellable_cancel (cancellable);
      g_main_context_iteration (context, FALSE);
    }
  while (n_done < 300)
    g_main_context_iteration (context, TRUE);
  for (guint i = 0; i < 300; i++)
    g_assert_true (answers[i].picture != NULL || g_error_matches (answers[i].error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
  g_main_context_pop_thread_default (context);
  free_answers (answers, 300);
  return NULL;
}

static void
test_threads (Fixture *fixture, gconstpointer unused)
{
  GThread *threads[4];

  g_clear_object (&fixture->previews);
  fixture->previews = tpt_previews_new (fixture->cache, 100000, 0);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("asks", load_in_thread_cb, fixture);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_thread_join (threads[i]);
}

static gboolean
is_in_memory (Fixture *fixture, const char *key)
{
  g_autoptr (TptPicture) picture = tpt_previews_peek (fixture->previews, fixture->picture, key, 320);

  return picture != NULL;
}

/* Waits at most ten seconds. */
static gboolean
comes_to_memory (Fixture *fixture, const char *key)
{
  for (guint i = 0; i < 1000 && !is_in_memory (fixture, key); i++)
    g_usleep (10000);
  return is_in_memory (fixture, key);
}

static void
test_ahead (Fixture *fixture, gconstpointer unused)
{
  const char *paths[40], *keys[40];
  const char *other_keys[] = { "p", "q" };
  guint n_first = 0;

  for (guint i = 0; i < 40; i++)
    {
      paths[i] = fixture->picture;
      keys[i] = g_strdup_printf ("%u", i);
    }
  tpt_previews_ahead (fixture->previews, paths, keys, 40, 320);
  tpt_previews_ahead (fixture->previews, paths, other_keys, 2, 320);
  g_assert_true (comes_to_memory (fixture, "p"));
  g_assert_true (comes_to_memory (fixture, "q"));
  for (guint i = 0; i < 40; i++)
    n_first += is_in_memory (fixture, keys[i]);
  /* those that threads were at already */
  g_assert_cmpuint (n_first, <, 20);

  tpt_previews_ahead (fixture->previews, paths, keys, 40, 320);
  for (guint i = 0; i < 40; i++)
    g_assert_true (comes_to_memory (fixture, keys[i]));
  tpt_previews_ahead (fixture->previews, NULL, NULL, 0, 320);
  for (guint i = 0; i < 40; i++)
    g_free ((char *) keys[i]);
}

/* The object may go while threads decode ahead. */
static void
test_gone_meanwhile (Fixture *fixture, gconstpointer unused)
{
  const char *paths[8], *keys[] = { "a", "b", "c", "d", "e", "f", "g", "h" };

  for (guint i = 0; i < 8; i++)
    paths[i] = fixture->picture;
  for (guint round = 0; round < 20; round++)
    {
      TptPreviews *previews = tpt_previews_new (fixture->cache, 0, 0);

      tpt_previews_ahead (previews, paths, keys, 8, 200 + (int) round);
      g_object_add_weak_pointer (G_OBJECT (previews), (gpointer *) &previews);
      g_object_unref (previews);
      g_assert_null (previews);
    }
}

/* Thousands of different requests never take more than the bound. */
static void
test_memory_bound (Fixture *fixture, gconstpointer unused)
{
  const gsize bound = 2 * 1000 * 1000, each = 160 * 120 * 3;
  g_autoptr (TptPreviews) previews = tpt_previews_new (fixture->cache, bound, 1);
  gsize most;

  for (guint i = 0; i < 4000; i++)
    {
      g_autofree char *key = g_strdup_printf ("%u", i);
      g_autoptr (TptPicture) picture = load (previews, fixture->picture, key, 160, NULL);
      g_autoptr (TptPicture) peeked = tpt_previews_peek (previews, fixture->picture, key, 160);

      g_assert_true (peeked == picture);
      g_assert_cmpuint (tpt_previews_get_memory (previews, &most), <=, bound);
      g_assert_cmpuint (most, <=, bound);
    }
  g_assert_cmpuint (most, >, bound - each);
  g_assert_cmpuint (tpt_previews_get_memory (previews, NULL), >, bound - each);
}

/* The one used last stays, and one that is too large does not push the rest out. */
static void
test_least_recently_used (Fixture *fixture, gconstpointer unused)
{
  const gsize each = 160 * 120 * 3;
  g_autoptr (TptPreviews) previews = tpt_previews_new (fixture->cache, 3 * each, 1);
  static const char *const keys[] = { "a", "b", "c", "d" };
  static const gboolean stays[] = { TRUE, FALSE, TRUE, TRUE };

  for (guint i = 0; i < 4; i++)
    {
      g_autoptr (TptPicture) picture = load (previews, fixture->picture, keys[i], 160, NULL);
      g_autoptr (TptPicture) first = tpt_previews_peek (previews, fixture->picture, "a", 160);

      g_assert_nonnull (first);
    }
  for (guint round = 0; round < 2; round++)
    {
      g_autoptr (TptPicture) whole = load (previews, fixture->picture, "whole", 0, NULL);

      g_assert_nonnull (whole);
      for (guint i = 0; i < 4; i++)
        {
          g_autoptr (TptPicture) picture = tpt_previews_peek (previews, fixture->picture, keys[i], 160);

          g_assert_cmpint (picture != NULL, ==, stays[i]);
        }
    }
}

/* Small ones come from disk when the picture's file is gone; large ones do not. */
static void
test_disk (Fixture *fixture, gconstpointer unused)
{
  g_autofree char *key = make_key (1);
  g_autoptr (TptPicture) made = load (fixture->previews, fixture->picture, key, TPT_PREVIEW_SMALL, NULL);
  g_autoptr (TptPicture) large = load (fixture->previews, fixture->picture, key, TPT_PREVIEW_LARGE, NULL);
  g_autoptr (TptPicture) found = NULL;
  g_autoptr (TptPreviews) next = NULL;
  g_autoptr (GError) error = NULL;

  /* it is written after it was handed out */
  for (guint i = 0; i < 1000 && remove_tree (fixture->cache, TRUE) == 0; i++)
    g_usleep (10000);
  g_assert_cmpuint (remove_tree (fixture->cache, TRUE), >, 0);
  g_clear_object (&fixture->previews);
  g_remove (fixture->picture);

  next = tpt_previews_new (fixture->cache, 0, 0);
  found = load (next, fixture->picture, key, TPT_PREVIEW_SMALL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (found->width, ==, 320);
  g_assert_cmpint (found->full_width, ==, 400);
  g_assert_null (load (next, fixture->picture, key, TPT_PREVIEW_LARGE, &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
}

/* The cache's folder is deleted again and again, or cannot be made at all. */
static void
test_no_disk (Fixture *fixture, gconstpointer unused)
{
  g_autofree char *below_file = g_build_filename (fixture->picture, "cache", NULL);
  g_autoptr (TptPreviews) nowhere = tpt_previews_new (below_file, 0, 0);

  for (guint i = 0; i < 100; i++)
    {
      g_autofree char *key = make_key (i);
      g_autoptr (GError) error = NULL;
      g_autoptr (TptPicture) here = load (fixture->previews, fixture->picture, key, 320, &error);
      g_autoptr (TptPicture) there = load (nowhere, fixture->picture, key, 320, &error);

      g_assert_no_error (error);
      g_assert_nonnull (here);
      g_assert_nonnull (there);
      if (i % 10 == 0)
        remove_tree (fixture->cache, FALSE);
    }
}

/* A small one out of the large one in memory looks like one out of the file. */
static void
test_small_of_large (Fixture *fixture, gconstpointer unused)
{
  g_autofree char *path = g_build_filename (fixture->folder, "large.jpg", NULL);
  g_autoptr (TptPicture) large = NULL;
  g_autoptr (TptPicture) of_large = NULL;
  g_autoptr (TptPicture) of_file = NULL;
  const guint8 *a, *b;
  double difference = 0;
  gsize length;

  write_jpeg (path, 1280, 960, 3);
  large = load (fixture->previews, path, "k", TPT_PREVIEW_LARGE, NULL);
  g_remove (path);
  of_large = load (fixture->previews, path, "k", TPT_PREVIEW_SMALL, NULL);
  g_assert_nonnull (of_large);
  write_jpeg (path, 1280, 960, 3);
  of_file = load (fixture->previews, path, "not k", TPT_PREVIEW_SMALL, NULL);
  g_assert_cmpint (of_large->width, ==, of_file->width);
  g_assert_cmpint (of_large->height, ==, of_file->height);
  a = g_bytes_get_data (of_large->pixels, &length);
  b = g_bytes_get_data (of_file->pixels, NULL);
  for (gsize i = 0; i < length; i++)
    difference += ABS (a[i] - b[i]);
  /* scaling in the decoder is nearly, not quite, the mean of pixels */
  g_assert_cmpfloat (difference / length, <, 3);
}

#define ADD(name, function) g_test_add ("/previews/" name, Fixture, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/previews/line", test_line);
  ADD ("load", test_load);
  ADD ("errors", test_errors);
  ADD ("shared", test_shared);
  ADD ("newest-first", test_newest_first);
  ADD ("cancel", test_cancel);
  ADD ("cancel-one", test_cancel_one);
  ADD ("cancel-lets-go", test_cancel_lets_go);
  ADD ("threads", test_threads);
  ADD ("ahead", test_ahead);
  ADD ("gone-meanwhile", test_gone_meanwhile);
  ADD ("memory-bound", test_memory_bound);
  ADD ("least-recently-used", test_least_recently_used);
  ADD ("disk", test_disk);
  ADD ("no-disk", test_no_disk);
  ADD ("small-of-large", test_small_of_large);
  return g_test_run ();
}
