#include "config.h"

#include <math.h>
#include <string.h>

#include "store-fixture.h"
#include "tpt-frames.h"

#define START 1777629600000 /* 2026-05-01T10:00:00Z */

static void
set_up (StoreFixture *f, gconstpointer data)
{
  store_set_up (f, data);
  store_put (f->store, "a", ROW (f->store, TPT_TABLE_STATIONS, "station", "A"));
  store_put (f->store, "d", ROW (f->store, TPT_TABLE_DEPLOYMENTS, "deployment", "D1", "station", "A", "start", "2026-05-01"));
}

/* A batch of frames as letters: the same letter is the same picture. Every
 * second of two belongs to one trigger; '-' has no time. */
static gboolean
take_in (TptStore *store, const char *letters, GError **error)
{
  g_autoptr (TptRecord) deployment = tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, "D1", NULL);
  g_autoptr (TptAction) action = tpt_action_begin (store, "Take in", error);
  g_autofree char *code = action != NULL ? tpt_store_make_batch_code (store, "D1", error) : NULL;
  g_autofree TptNewFrame *frames = g_new0 (TptNewFrame, strlen (letters));
  g_autoptr (GPtrArray) strings = g_ptr_array_new_with_free_func (g_free);
  TptNewSetAside aside = { "notes.txt", "this is not a picture", "pictures/notes.txt" };
  TptNewBatch batch = {
    .batch = code,
    .deployment_id = tpt_record_get_id (deployment),
    .source = "CARD",
    .folder = "pictures/D1",
    .clock_true = TPT_NO_INSTANT,
    .clock_offset_s = NAN,
    .frames = frames,
    .n_frames = strlen (letters),
    .set_aside = &aside,
    .n_set_aside = 1,
  };

  if (code == NULL)
    return FALSE;
  for (gsize i = 0; letters[i] != '\0'; i++)
    {
      char *sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, letters + i, 1);
      char *file = g_strdup_printf ("pictures/D1/%c.jpg", letters[i]);
      gboolean timed = letters[i] != '-';

      g_ptr_array_add (strings, sha256);
      g_ptr_array_add (strings, file);
      frames[i] = (TptNewFrame){ .file = file, .sha256 = sha256, .bytes = 10, .trigger = timed ? (int) i / 2 : -1,
                                 .at = timed ? START + (gint64) i * TPT_SECOND : TPT_NO_INSTANT };
    }
  return tpt_store_add_batch (store, &batch, error) && tpt_action_commit (action, error);
}

/* What queries see of the batches that count. */
static void
assert_seen (TptStore *store, gint64 pictures, guint batches)
{
  static const char sha_a[] = "ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb"; /* of "a": FIPS 180-4, from memory */
  g_autoptr (TptRecord) deployment = tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, "D1", NULL);
  g_autoptr (TptRecord) station = tpt_store_find (store, TPT_TABLE_STATIONS, "A", NULL);
  gint64 id = tpt_record_get_id (deployment);
  TptRange ever = { TPT_NO_INSTANT, TPT_NO_INSTANT };
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) rows = tpt_store_read_progress (store, &error);
  g_autoptr (GPtrArray) page = tpt_store_page_pictures (store, 0, 1000, &error);
  g_autoptr (GArray) times = tpt_store_read_frame_times (store, tpt_record_get_id (station), ever, &error);
  g_autoptr (TptRecord) frame = tpt_store_find (store, TPT_TABLE_FRAMES, "ca978112ca1bbdca", &error);
  TptInstant last = tpt_store_read_last_sign (store, id, START + TPT_DAY, &error);
  gboolean seen = batches > 0, known, aside;
  TptSigns signs;
  gint64 count;

  g_assert_true (tpt_store_read_signs_of (store, id, START + TPT_DAY, &signs, &error));
  g_assert_true (tpt_store_count_pictures (store, &count, &error));
  g_assert_true (tpt_store_knows_content (store, sha_a, &known, &error));
  g_assert_true (tpt_store_has_set_aside (store, id, "notes.txt", &aside, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (rows->len, ==, batches);
  g_assert_cmpint (count, ==, pictures);
  g_assert_cmpint (page->len, ==, pictures);
  g_assert_cmpint (times->len, ==, pictures);
  g_assert_cmpint (signs.triggers > 0, ==, seen);
  g_assert_cmpint (frame != NULL, ==, seen);
  g_assert_cmpint (last != TPT_NO_INSTANT, ==, seen);
  g_assert_cmpint (known, ==, seen);
  g_assert_cmpint (aside, ==, seen);
  store_assert_sound (store);
}

/* Withdrawn, a batch is there for nobody; as letters: t takes in, u undoes, r redoes. */
static void
test_withdrawn (StoreFixture *f, gconstpointer data)
{
  static const struct {
    char step;
    gint64 pictures;
    guint batches;
  } steps[] = {
    { 't', 3, 1 }, { 'u', 0, 0 }, { 'r', 3, 1 }, { 'u', 0, 0 }, { 't', 3, 1 }, { 'u', 0, 0 }, { 'r', 3, 1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_autoptr (GError) error = NULL;

      g_test_message ("step %u", (guint) i);
      if (steps[i].step == 't')
        take_in (f->store, "abc", &error);
      else if (steps[i].step == 'u')
        tpt_store_undo (f->store, &error);
      else
        tpt_store_redo (f->store, &error);
      g_assert_no_error (error);
      assert_seen (f->store, steps[i].pictures, steps[i].batches);
    }
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM batches"), ==, 1); /* the first made room */
}

static void
test_rows (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) rows = NULL;
  const TptBatchProgress *row;

  g_assert_true (take_in (f->store, "abcd-", &error));
  g_assert_true (take_in (f->store, "xy", &error));
  g_assert_no_error (error);
  rows = tpt_store_read_progress (f->store, &error);
  g_assert_cmpuint (rows->len, ==, 2);
  g_assert_cmpstr (g_array_index (rows, TptBatchProgress, 0).batch, ==, "D1-B02"); /* newest first */
  row = &g_array_index (rows, TptBatchProgress, 1);
  g_assert_cmpstr (row->batch, ==, "D1-B01");
  g_assert_cmpstr (row->deployment, ==, "D1");
  g_assert_cmpint (row->frames, ==, 5);
  g_assert_cmpint (row->triggers, ==, 2);
  g_assert_cmpint (row->set_aside, ==, 1);
  g_assert_cmpint (row->first, ==, START);
  g_assert_cmpint (row->last, ==, START + 3 * TPT_SECOND); /* the one without a time says nothing */
  g_assert_cmpint (store_count (f->store, "SELECT bytes FROM batches WHERE batch = 'D1-B01'"), ==, 50);
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM triggers"), ==, 3);
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM frames WHERE trigger_id IS NULL"), ==, 1);
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM triggers WHERE frames = 2 AND end_at > start_at"), ==, 3);
  g_assert_cmpint (store_count (f->store, "SELECT count(*) FROM journal WHERE what = 'Take in'"), ==, 2);
  store_assert_sound (f->store);
}

/* A picture that counts cannot be on record twice; nothing of its batch is kept. */
static void
test_twice (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = NULL, *after = NULL;

  g_assert_true (take_in (f->store, "abc", &error));
  before = store_dump (f->store);
  g_assert_false (take_in (f->store, "xya", &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
  after = store_dump (f->store);
  g_assert_cmpstr (after, ==, before);
  assert_seen (f->store, 3, 1);
}

/* Page by page every picture comes once. */
static void
test_pages (StoreFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) files = g_string_new (NULL);
  gint64 after = 0;

  g_assert_true (take_in (f->store, "abcdefg", &error));
  for (int pages = 0; pages < 10; pages++)
    {
      g_autoptr (GPtrArray) page = tpt_store_page_pictures (f->store, after, 3, &error);

      g_assert_cmpuint (page->len, <=, 3);
      if (page->len == 0)
        break;
      for (guint i = 0; i < page->len; i++)
        {
          const TptPictureRow *row = page->pdata[i];

          g_assert_cmpint (row->bytes, ==, 10);
          g_assert_cmpuint (strlen (row->sha256), ==, 64);
          g_string_append_c (files, row->file[strlen ("pictures/D1/")]);
          after = row->frame_id;
        }
    }
  g_assert_cmpstr (files->str, ==, "abcdefg");
}

/* Each step of taking in fails once: the project has the batch or it has not. */
static void
test_faults (StoreFixture *f, gconstpointer data)
{
  g_autofree char *before = store_dump (f->store);
  int n;

  for (n = 1;; n++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *after = NULL;
      gboolean done;

      tpt_fault_arm (n);
      done = take_in (f->store, "abc", &error);
      tpt_fault_arm (0);
      if (done)
        break;
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      after = store_dump (f->store);
      g_assert_cmpstr (after, ==, before);
      g_assert_cmpint (store_count (f->store, "SELECT (SELECT count(*) FROM frames) + (SELECT count(*) FROM triggers)"), ==, 0);
    }
  g_assert_cmpint (n, >, 10);
  assert_seen (f->store, 3, 1);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
#define ADD(name, function) g_test_add ("/batches/" name, StoreFixture, NULL, set_up, function, store_tear_down)
  ADD ("withdrawn", test_withdrawn);
  ADD ("rows", test_rows);
  ADD ("twice", test_twice);
  ADD ("pages", test_pages);
  ADD ("faults", test_faults);
  return g_test_run ();
}
