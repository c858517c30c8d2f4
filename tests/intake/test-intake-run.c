#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "intake-fixture.h"
#include "tpt-error.h"
#include "tpt-intake-run.h"

typedef struct {
  char *card;               /* (owned) */
  char *folder;             /* (owned): above the destination */
  char *destination;        /* (owned) */
  TptZone *zone;            /* (owned) */
  TptIntakeRequest request;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->card = fixture_make_folder ();
  f->folder = fixture_make_folder ();
  f->destination = g_build_filename (f->folder, "pictures", NULL);
  f->zone = tpt_zone_new ("Asia/Kuching", NULL);
  f->request = (TptIntakeRequest) { .card = f->card, .destination = f->destination, .prefix = "D1/card", };
  f->request.clock = (TptClock) { .zone = f->zone, .start = TPT_NO_INSTANT, .end = TPT_NO_INSTANT, .now = TPT_NO_INSTANT };
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  tpt_fault_arm (0);
  fixture_remove_tree (f->card);
  fixture_remove_tree (f->folder);
  g_free (f->card);
  g_free (f->folder);
  g_free (f->destination);
  tpt_zone_unref (f->zone);
}

/* Two bursts of three, a duplicate of one, a clip, one without a date. */
static void
fill_card (Fixture *f)
{
  static const char *const dates[] = { "2025-05-14T07:30:00", "2025-05-14T07:30:01", "2025-05-14T07:30:02",
                                       "2025-05-14T23:00:00", "2025-05-14T23:00:01", "2025-05-14T23:00:02" };
  g_autofree char *first = g_build_filename (f->card, "DCIM/100/IMG_8.JPG", NULL);
  g_autofree char *content = NULL;
  gsize length;

  for (guint i = 0; i < G_N_ELEMENTS (dates); i++)
    {
      g_autofree char *name = g_strdup_printf ("DCIM/100/IMG_%u.JPG", 8 + i);

      fixture_write_jpeg (f->card, name, i + 1, dates[i]);
    }
  g_assert_true (g_file_get_contents (first, &content, &length, NULL));
  fixture_write (f->card, "DCIM/101/IMG_1.JPG", content, length);
  fixture_write (f->card, "DCIM/101/CLIP.MP4", "\0\0\0\x18" "ftypmp42\0\0\0\0 and the rest", 30);
  fixture_write_jpeg (f->card, "DCIM/101/IMG_2.JPG", 99, NULL);
  fixture_write (f->card, "Thumbs.db", "junk", 4);
}

static TptIntake *
run (Fixture *f)
{
  g_autoptr (GError) error = NULL;
  TptIntake *intake = tpt_intake_run (&f->request, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (intake);
  return intake;
}

static const TptIntakeFrame *
find_frame (const TptIntake *intake, const char *source)
{
  for (guint i = 0; i < intake->frames->len; i++)
    {
      const TptIntakeFrame *frame = g_ptr_array_index (intake->frames, i);

      if (g_str_equal (frame->source, source))
        return frame;
    }
  return NULL;
}

static guint
count_files (const char *folder)
{
  g_autofree char *list = g_file_test (folder, G_FILE_TEST_IS_DIR) ? fixture_list_tree (folder, FALSE) : g_strdup ("");
  guint n = *list != '\0';

  for (const char *p = list; *p != '\0'; p++)
    n += *p == '\n';
  return n;
}

/* Every frame's file is there with the content the card has. */
static void
check_files (Fixture *f, const TptIntake *intake)
{
  for (guint i = 0; i < intake->frames->len; i++)
    {
      const TptIntakeFrame *frame = g_ptr_array_index (intake->frames, i);
      g_autofree char *there = g_build_filename (f->destination, frame->file, NULL);
      g_autofree char *here = g_build_filename (f->card, frame->source, NULL);
      g_autofree char *found = fixture_hash_file (there);
      g_autofree char *wanted = fixture_hash_file (here);

      g_assert_cmpstr (found, ==, wanted);
      g_assert_cmpstr (frame->sha256, ==, wanted);
      g_assert_cmpint (frame->exif != NULL, ==, TRUE);
    }
}

static void
test_card (Fixture *f, gconstpointer data)
{
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (TptIntake) intake = NULL;
  const TptIntakeFrame *frame;
  const TptIntakeDuplicate *duplicate;

  fill_card (f);
  before = fixture_list_tree (f->card, TRUE);
  f->request.clock.has_pair = TRUE;
  g_assert_true (tpt_reading_parse ("2025-06-01T12:00:00", &f->request.clock.read, NULL));
  f->request.clock.true_at = tpt_instant_parse ("2025-06-01T12:01:40+08:00", NULL, NULL);
  intake = run (f);

  g_assert_cmpuint (intake->frames->len, ==, 8);
  g_assert_cmpuint (intake->unreadable->len, ==, 0);
  g_assert_cmpuint (intake->damaged->len, ==, 0);
  g_assert_cmpuint (intake->others->len, ==, 1);
  g_assert_cmpuint (intake->n_copied, ==, 8);
  g_assert_cmpuint (intake->n_triggers, >=, 3);
  g_assert_cmpfloat (intake->clock.clock_offset_s, ==, 100);
  g_assert_cmpuint (intake->clock.n_file_time, ==, 2);
  g_assert_cmpuint (intake->duplicates->len, ==, 1);
  duplicate = g_ptr_array_index (intake->duplicates, 0);
  g_assert_cmpstr (duplicate->source, ==, "DCIM/101/IMG_1.JPG");
  g_assert_cmpstr (duplicate->of, ==, "DCIM/100/IMG_8.JPG");

  frame = g_ptr_array_index (intake->frames, 0);
  g_assert_cmpstr (frame->source, ==, "DCIM/100/IMG_8.JPG");
  g_assert_cmpstr (frame->file, ==, "D1/card/DCIM/100/IMG_8.JPG");
  g_assert_cmpint (frame->at, ==, tpt_instant_parse ("2025-05-14T07:31:40+08:00", NULL, NULL));
  g_assert_cmpint (intake->first, ==, frame->at);
  g_assert_cmpstr (frame->exif->serial, ==, "INV-7");
  g_assert_cmpuint (find_frame (intake, "DCIM/100/IMG_10.JPG")->trigger, ==, 0);
  g_assert_cmpuint (find_frame (intake, "DCIM/100/IMG_11.JPG")->trigger, ==, 1);
  g_assert_cmpint (find_frame (intake, "DCIM/101/CLIP.MP4")->kind, ==, TPT_SCAN_CLIP);
  g_assert_cmphex (find_frame (intake, "DCIM/101/IMG_2.JPG")->doubts & TPT_DOUBT_FILE_TIME, !=, 0);

  check_files (f, intake);
  g_assert_cmpuint (count_files (f->destination), ==, 8);
  after = fixture_list_tree (f->card, TRUE);
  g_assert_cmpstr (before, ==, after);
}

static void
test_again (Fixture *f, gconstpointer data)
{
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (TptIntake) first = NULL;
  g_autoptr (TptIntake) second = NULL;

  fill_card (f);
  first = run (f);
  before = fixture_list_tree (f->destination, TRUE);
  second = run (f);
  after = fixture_list_tree (f->destination, TRUE);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (second->n_copied, ==, 0);
  g_assert_cmpuint (second->frames->len, ==, first->frames->len);
  for (guint i = 0; i < first->frames->len; i++)
    {
      const TptIntakeFrame *a = g_ptr_array_index (first->frames, i);
      const TptIntakeFrame *b = g_ptr_array_index (second->frames, i);

      g_assert_cmpstr (a->source, ==, b->source);
      g_assert_cmpstr (a->file, ==, b->file);
      g_assert_cmpstr (a->sha256, ==, b->sha256);
      g_assert_cmpint (a->at, ==, b->at);
      g_assert_cmpuint (a->trigger, ==, b->trigger);
      g_assert_false (a->was_there);
      g_assert_true (b->was_there);
    }
}

static gboolean
is_known_cb (const char *sha256, gpointer user_data)
{
  return g_str_equal (sha256, user_data);
}

static void
test_known (Fixture *f, gconstpointer data)
{
  g_autofree char *path = g_build_filename (f->card, "DCIM/100/IMG_9.JPG", NULL);
  g_autofree char *hash = NULL;
  g_autoptr (TptIntake) intake = NULL;
  const TptIntakeDuplicate *duplicate;

  fill_card (f);
  hash = fixture_hash_file (path);
  f->request.is_known = is_known_cb;
  f->request.is_known_data = hash;
  intake = run (f);
  g_assert_cmpuint (intake->frames->len, ==, 7);
  g_assert_cmpuint (intake->duplicates->len, ==, 2);
  duplicate = g_ptr_array_index (intake->duplicates, 0);
  g_assert_cmpstr (duplicate->source, ==, "DCIM/100/IMG_9.JPG");
  g_assert_null (duplicate->of);
  g_assert_cmpuint (count_files (f->destination), ==, 7);
}

typedef enum { MAKE_BYTES, MAKE_CUT, MAKE_CUT_EARLY, MAKE_ZERO_TAIL, MAKE_HOLE, MAKE_CUT_NO_EXIF, MAKE_CUT_EXIF_ONLY } Make;

typedef struct {
  const char *name;
  Make make;
  const char *bytes;
  gsize length;
  gboolean readable;
} TroubleCase;

static const TroubleCase trouble_cases[] = {
  { "a-empty.jpg", MAKE_BYTES, "", 0, FALSE },
  { "b-ff.jpg", MAKE_BYTES, "\xff\xff\xff\xff\xff\xff\xff\xff", 8, FALSE },
  { "c-zero.cr2", MAKE_BYTES, "\0\0\0\0\0\0\0\0\0", 9, FALSE },
  { "d-text.jpg", MAKE_BYTES, "a letter home", 13, FALSE },
  { "e-text.mp4", MAKE_BYTES, "a letter home", 13, FALSE },
  { "f-empty-too.jpg", MAKE_BYTES, "", 0, FALSE },
  { "g-cut-early.jpg", MAKE_CUT_EARLY, NULL, 0, FALSE },
  { "h-cut.jpg", MAKE_CUT, NULL, 0, TRUE },
  { "i-zero-tail.jpg", MAKE_ZERO_TAIL, NULL, 0, TRUE },
  { "j-hole.jpg", MAKE_HOLE, NULL, 0, TRUE },
  { "k-cut-no-exif.jpg", MAKE_CUT_NO_EXIF, NULL, 0, TRUE },
  { "l-exif-only.jpg", MAKE_CUT_EXIF_ONLY, NULL, 0, TRUE },
};

/* Where the start of scan is; the tables and Exif lie before it. */
static gsize
find_scan (const char *data, gsize length)
{
  for (gsize i = length / 2; i > 1; i--)
    if ((guint8) data[i] == 0xff && (guint8) data[i + 1] == 0xda)
      return i;
  g_assert_not_reached ();
}

static void
make_trouble (Fixture *f, guint seed, const TroubleCase *c)
{
  g_autofree char *path = g_build_filename (f->card, c->name, NULL);
  g_autofree char *data = NULL;
  gsize length;

  if (c->make == MAKE_BYTES)
    {
      fixture_write (f->card, c->name, c->bytes, c->length);
      return;
    }
  fixture_write_jpeg (f->card, c->name, seed, c->make == MAKE_CUT_NO_EXIF ? NULL : "2025-05-14T07:30:00");
  g_assert_true (g_file_get_contents (path, &data, &length, NULL));
  if (c->make == MAKE_ZERO_TAIL)
    memset (data + length * 2 / 3, 0, length - length * 2 / 3);
  if (c->make == MAKE_HOLE)
    memset (data + length - 4600, 0, 4500);
  if (c->make == MAKE_CUT || c->make == MAKE_CUT_NO_EXIF)
    length = length * 2 / 3;
  if (c->make == MAKE_CUT_EARLY)
    length = 60;
  if (c->make == MAKE_CUT_EXIF_ONLY)
    length = find_scan (data, length) - 100;
  fixture_write (f->card, c->name, data, length);
}

static void
check_trouble (Fixture *f, const TptIntake *intake, const TroubleCase *c)
{
  const TptIntakeFrame *frame = find_frame (intake, c->name);
  g_autofree char *kept = g_strconcat ("D1/card/", c->readable ? "" : "unreadable/", c->name, NULL);
  g_autofree char *there = g_build_filename (f->destination, kept, NULL);
  g_autofree char *here = g_build_filename (f->card, c->name, NULL);
  g_autofree char *found = NULL;
  g_autofree char *wanted = fixture_hash_file (here);

  g_test_message ("%s", c->name);
  g_assert_true (g_file_test (there, G_FILE_TEST_EXISTS));
  found = fixture_hash_file (there);
  g_assert_cmpstr (found, ==, wanted);
  g_assert_cmpint (frame != NULL, ==, c->readable);
  if (frame == NULL)
    return;
  g_assert_nonnull (frame->damage);
  g_assert_cmpint (frame->exif->source, ==, c->make == MAKE_CUT_NO_EXIF ? TPT_TIME_FILE : TPT_TIME_ORIGINAL);
}

static void
test_trouble (Fixture *f, gconstpointer data)
{
  g_autoptr (TptIntake) intake = NULL;
  g_autoptr (TptIntake) again = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (trouble_cases); i++)
    make_trouble (f, i + 1, &trouble_cases[i]);
  intake = run (f);
  g_assert_cmpuint (intake->unreadable->len, ==, 7);
  g_assert_cmpuint (intake->damaged->len, ==, 5);
  g_assert_cmpuint (intake->duplicates->len, ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (trouble_cases); i++)
    check_trouble (f, intake, &trouble_cases[i]);
  for (guint i = 0; i < intake->unreadable->len; i++)
    {
      const TptIntakeTrouble *trouble = g_ptr_array_index (intake->unreadable, i);

      g_assert_cmpstr (trouble->source, ==, trouble_cases[i].name);
      g_assert_true (g_str_has_prefix (trouble->kept, "D1/card/unreadable/"));
      g_assert_cmpuint (strlen (trouble->reason), >, 10);
    }

  again = run (f);
  g_assert_cmpuint (again->n_copied, ==, 0);
  g_assert_cmpuint (again->unreadable->len, ==, 7);
  g_assert_cmpuint (count_files (f->destination), ==, G_N_ELEMENTS (trouble_cases));
}

typedef struct {
  const char *source;
  const char *file;
} PlaceCase;

/* In the card's order. */
static const PlaceCase place_cases[] = {
  { "A?.jpg", "D1/card/A_.jpg" },
  { "A_.jpg", "D1/card/A_-2.jpg" },
  { "IMG 1.JPG", "D1/card/IMG 1.JPG" },
  { "a:b/x.jpg", "D1/card/a_b/x.jpg" },
  { "a_b/X.jpg", "D1/card/a_b/X-2.jpg" },
  { "line\nbreak.jpg", "D1/card/line_break.jpg" },
  { "odd\xff\xfe.jpg", "D1/card/odd__.jpg" },
  { "tail./x.jpg", "D1/card/tail_/x.jpg" },
  { "\xc3\xa9t\xc3\xa9.jpg", "D1/card/\xc3\xa9t\xc3\xa9.jpg" },
};

static void
test_places (Fixture *f, gconstpointer data)
{
  g_autofree char *long_name = g_strnfill (251, 'n');
  g_autofree char *long_jpg = g_strconcat (long_name, ".jpg", NULL);
  g_autoptr (TptIntake) intake = NULL;
  g_autoptr (TptIntake) again = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (place_cases); i++)
    fixture_write_jpeg (f->card, place_cases[i].source, i + 1, NULL);
  fixture_write_jpeg (f->card, long_jpg, 77, NULL);
  intake = run (f);
  again = run (f);
  for (guint i = 0; i < G_N_ELEMENTS (place_cases); i++)
    {
      g_assert_cmpstr (find_frame (intake, place_cases[i].source)->file, ==, place_cases[i].file);
      g_assert_cmpstr (find_frame (again, place_cases[i].source)->file, ==, place_cases[i].file);
    }
  g_assert_cmpuint (strlen (find_frame (intake, long_jpg)->file), ==, strlen ("D1/card/") + 200);
  g_assert_cmpuint (again->n_copied, ==, 0);
  check_files (f, intake);
}

/* Another card with the same names, into the same place. */
static void
test_namesakes (Fixture *f, gconstpointer data)
{
  g_autoptr (TptIntake) first = NULL;
  g_autoptr (TptIntake) second = NULL;

  fixture_write_jpeg (f->card, "IMG_1.JPG", 1, "2025-05-14T07:30:00");
  first = run (f);
  fixture_write_jpeg (f->card, "IMG_1.JPG", 2, "2025-05-15T07:30:00");
  second = run (f);
  g_assert_cmpstr (find_frame (first, "IMG_1.JPG")->file, ==, "D1/card/IMG_1.JPG");
  g_assert_cmpstr (find_frame (second, "IMG_1.JPG")->file, ==, "D1/card/IMG_1-2.JPG");
  g_assert_cmpuint (count_files (f->destination), ==, 2);
}

static void
test_verify_only (Fixture *f, gconstpointer data)
{
  g_autofree char *changed = g_build_filename (f->destination, "D1/card/DCIM/100/IMG_9.JPG", NULL);
  g_autofree char *gone = g_build_filename (f->destination, "D1/card/DCIM/100/IMG_10.JPG", NULL);
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autofree char *content = NULL;
  g_autoptr (TptIntake) nothing = NULL;
  g_autoptr (TptIntake) copied = NULL;
  g_autoptr (TptIntake) good = NULL;
  g_autoptr (TptIntake) bad = NULL;
  gsize length;

  fill_card (f);
  f->request.verify_only = TRUE;
  nothing = run (f);
  g_assert_cmpuint (nothing->missing->len, ==, 9);
  g_assert_false (g_file_test (f->destination, G_FILE_TEST_EXISTS));

  f->request.verify_only = FALSE;
  copied = run (f);
  f->request.verify_only = TRUE;
  good = run (f);
  g_assert_cmpuint (good->missing->len, ==, 0);
  g_assert_cmpuint (good->frames->len, ==, 8);
  g_assert_cmpuint (good->duplicates->len, ==, 1);

  g_assert_true (g_file_get_contents (changed, &content, &length, NULL));
  content[length / 2] ^= 1;
  g_assert_true (g_file_set_contents (changed, content, length, NULL));
  g_remove (gone);
  before = fixture_list_tree (f->destination, TRUE);
  bad = run (f);
  after = fixture_list_tree (f->destination, TRUE);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (bad->missing->len, ==, 2);
  g_assert_cmpstr (((TptIntakeTrouble *) g_ptr_array_index (bad->missing, 0))->source, ==, "DCIM/100/IMG_9.JPG");
  g_assert_cmpstr (((TptIntakeTrouble *) g_ptr_array_index (bad->missing, 1))->source, ==, "DCIM/100/IMG_10.JPG");
}

static void
test_refused (Fixture *f, gconstpointer data)
{
  g_autofree char *inside = g_build_filename (f->card, "pictures/here", NULL);
  g_autofree char *missing = g_build_filename (f->card, "missing", NULL);
  const struct { const char *card, *destination, *prefix; int code; } cases[] = {
    { f->card, "relative", "", TPT_ERROR_USAGE },
    { f->card, inside, "", TPT_ERROR_USAGE },
    { f->card, f->card, "", TPT_ERROR_USAGE },
    { f->card, f->destination, "../up", TPT_ERROR_USAGE },
    { f->card, f->destination, "a/../../b", TPT_ERROR_USAGE },
    { f->card, f->destination, "/abs", TPT_ERROR_USAGE },
    { f->card, f->destination, "a//b", TPT_ERROR_USAGE },
    { missing, f->destination, "a", TPT_ERROR_IO },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      f->request.card = cases[i].card;
      f->request.destination = cases[i].destination;
      f->request.prefix = cases[i].prefix;
      g_test_message ("case %u", i);
      g_assert_null (tpt_intake_run (&f->request, NULL, &error));
      g_assert_error (error, TPT_ERROR, cases[i].code);
    }
  g_assert_false (g_file_test (inside, G_FILE_TEST_EXISTS));
}

/* Progress only rises, and ends at everything. */
typedef struct {
  guint files, total;
  gint64 bytes, bytes_total;
  guint calls;
} Progress;

static void
progress_cb (guint files_done, guint files_total, gint64 bytes_done, gint64 bytes_total, const char *name,
             gpointer user_data)
{
  Progress *progress = user_data;

  g_assert_cmpuint (files_done, >=, progress->files);
  g_assert_cmpint (bytes_done, >=, progress->bytes);
  *progress = (Progress) { files_done, files_total, bytes_done, bytes_total, progress->calls + 1 };
}

static void
test_progress (Fixture *f, gconstpointer data)
{
  Progress progress = { 0 };
  g_autoptr (TptIntake) intake = NULL;

  fill_card (f);
  f->request.progress = progress_cb;
  f->request.progress_data = &progress;
  intake = run (f);
  g_assert_cmpuint (progress.files, ==, 9);
  g_assert_cmpuint (progress.total, ==, 9);
  g_assert_cmpint (progress.bytes, ==, progress.bytes_total);
  g_assert_cmpuint (progress.calls, >=, 9);
}

typedef struct {
  Fixture *f;
  const char *at;
  GCancellable *cancellable;
  guint n;                /* files to take away */
} Accident;

static void
cancel_cb (guint files_done, guint files_total, gint64 bytes_done, gint64 bytes_total, const char *name,
           gpointer user_data)
{
  Accident *accident = user_data;

  if (g_strcmp0 (name, accident->at) == 0)
    g_cancellable_cancel (accident->cancellable);
}

static void
test_cancel (Fixture *f, gconstpointer data)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  Accident accident = { f, "DCIM/100/IMG_11.JPG", cancellable };
  g_autoptr (GError) error = NULL;
  g_autoptr (TptIntake) intake = NULL;

  fill_card (f);
  f->request.progress = cancel_cb;
  f->request.progress_data = &accident;
  g_assert_null (tpt_intake_run (&f->request, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (count_files (f->destination), <=, 3);

  f->request.progress = NULL;
  intake = run (f);
  g_assert_cmpuint (intake->frames->len, ==, 8);
  g_assert_cmpuint (count_files (f->destination), ==, 8);
  check_files (f, intake);
}

static void
take_away_cb (guint files_done, guint files_total, gint64 bytes_done, gint64 bytes_total, const char *name,
              gpointer user_data)
{
  Accident *accident = user_data;

  if (name == NULL || accident->n == 0)
    return;
  if (accident->n == G_MAXUINT)
    fixture_remove_tree (accident->f->card);
  else if (files_done >= 2)
    {
      g_autofree char *path = g_build_filename (accident->f->card, name, NULL);

      accident->n--;
      g_remove (path);
    }
}

/* One file fails: it is listed. Three in a row, or the card is gone: it stops. */
static void
test_card_fails (Fixture *f, gconstpointer data)
{
  static const guint cases[] = { 1, 2, 3, G_MAXUINT };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Accident accident = { f, NULL, NULL, cases[i] };
      g_autoptr (GError) error = NULL;
      g_autoptr (TptIntake) intake = NULL;

      g_test_message ("%u", cases[i]);
      fixture_remove_tree (f->destination);
      fill_card (f);
      f->request.progress = take_away_cb;
      f->request.progress_data = &accident;
      intake = tpt_intake_run (&f->request, NULL, &error);
      if (cases[i] > 2)
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_IO);
          g_assert_null (intake);
          continue;
        }
      g_assert_no_error (error);
      g_assert_cmpuint (intake->unreadable->len, ==, cases[i]);
      g_assert_cmpuint (intake->frames->len, ==, 8 - cases[i]);
      g_assert_null (((TptIntakeTrouble *) g_ptr_array_index (intake->unreadable, 0))->kept);
    }
}

/* Each step of the run fails once; the next run makes it whole. */
static void
test_every_step (Fixture *f, gconstpointer data)
{
  g_autofree char *card = NULL;
  g_autofree char *wanted = NULL;
  int steps;

  fill_card (f);
  card = fixture_list_tree (f->card, TRUE);
  tpt_fault_arm (0);
  tpt_intake_free (run (f));
  steps = tpt_fault_count ();
  wanted = fixture_list_tree (f->destination, TRUE);
  /* nine files are opened, eight written, synced, read back, renamed */
  g_assert_cmpint (steps, >, 9 + 8 * 5);

  for (int i = 1; i <= steps; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *found = NULL;
      g_autofree char *card_after = NULL;
      TptIntake *intake;

      fixture_remove_tree (f->destination);
      tpt_fault_arm (i);
      intake = tpt_intake_run (&f->request, NULL, &error);
      g_assert_null (intake);
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);

      tpt_fault_arm (0);
      tpt_intake_free (run (f));
      found = fixture_list_tree (f->destination, TRUE);
      g_assert_cmpstr (found, ==, wanted);
      card_after = fixture_list_tree (f->card, TRUE);
      g_assert_cmpstr (card_after, ==, card);
    }
}

/* Copy what is there, resume over it: each step of that fails once as well. */
static void
test_every_step_of_resuming (Fixture *f, gconstpointer data)
{
  g_autofree char *half = g_build_filename (f->destination, "D1/card/DCIM/100/IMG_9.JPG", NULL);
  g_autofree char *wanted = NULL;
  int steps;

  fill_card (f);
  tpt_intake_free (run (f));
  wanted = fixture_list_tree (f->destination, TRUE);
  g_remove (half);
  fixture_write (f->destination, ".tapetum-part-xxxxxx", "half", 4);
  tpt_fault_arm (0);
  tpt_intake_free (run (f));
  steps = tpt_fault_count ();

  for (int i = 1; i <= steps; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *found = NULL;

      g_remove (half);
      fixture_write (f->destination, ".tapetum-part-xxxxxx", "half", 4);
      tpt_fault_arm (i);
      g_assert_null (tpt_intake_run (&f->request, NULL, &error));
      g_assert_error (error, TPT_ERROR, TPT_ERROR_FAULT);
      tpt_fault_arm (0);
      tpt_intake_free (run (f));
      found = fixture_list_tree (f->destination, TRUE);
      g_assert_cmpstr (found, ==, wanted);
    }
}

static void
test_empty_card (Fixture *f, gconstpointer data)
{
  g_autoptr (TptIntake) intake = run (f);

  g_assert_cmpuint (intake->frames->len, ==, 0);
  g_assert_cmpuint (intake->n_triggers, ==, 0);
  g_assert_cmpint (intake->first, ==, TPT_NO_INSTANT);
}

int
main (int argc, char **argv)
{
  static const struct { const char *name; void (*test) (Fixture *, gconstpointer); } tests[] = {
    { "/intake-run/card", test_card }, { "/intake-run/again", test_again }, { "/intake-run/known", test_known },
    { "/intake-run/trouble", test_trouble }, { "/intake-run/places", test_places },
    { "/intake-run/namesakes", test_namesakes }, { "/intake-run/verify-only", test_verify_only },
    { "/intake-run/refused", test_refused }, { "/intake-run/progress", test_progress },
    { "/intake-run/cancel", test_cancel }, { "/intake-run/card-fails", test_card_fails },
    { "/intake-run/every-step", test_every_step },
    { "/intake-run/every-step-of-resuming", test_every_step_of_resuming },
    { "/intake-run/empty-card", test_empty_card },
  };

  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  tpt_exif_init ();
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].name, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
