#include "config.h"

#include "db.h"
#include "frames-fixture.h"
#include "tpt-frame-list.h"

/* Two cards: three triggers at the bank, two on the ridge. */
static void
put_cards (JobsFixture *f)
{
  FRAMES ("D1", "x", "2026-05-02T20:00:00", "2026-05-02T23:30:00", "2026-05-03T12:00:00");
  FRAMES ("D2", "y", "2026-05-02T20:10:00", "2026-05-04T04:00:00");
}

static void
test_queries (JobsFixture *f, gconstpointer data)
{
  static const char *const ridge[] = { "RIDGE", NULL }, *const deer[] = { "lesser MOUSE-DEER", NULL };
  static const char *const blank[] = { "blank", NULL }, *const two[] = { "blank", "animal", NULL };
  const TptRange any = { TPT_NO_INSTANT, TPT_NO_INSTANT };
  const struct {
    const char *what;
    TptFrameQuery query;
    const char *found;
    gint64 triggers, undecided;
  } cases[] = {
    { "one of each", { .range = any }, "x1a y1a x2a x3a y2a", 5, 2 },
    { "a card", { .range = any, .batch = (char *) "D2-B01" }, "y1a y2a", 2, 2 },
    { "every frame of it", { .range = any, .batch = (char *) "D2-B01", .every_frame = TRUE }, "y1a y1b y1c y2a y2b y2c", 2, 2 },
    { "a station", { .range = any, .stations = (GStrv) ridge }, "y1a y2a", 2, 2 },
    { "a species", { .range = any, .species = (GStrv) deer }, "x1a", 1, 0 },
    { "a type", { .range = any, .types = (GStrv) blank }, "x2a x3a", 2, 0 },
    { "types", { .range = any, .types = (GStrv) two }, "x1a x2a x3a", 3, 0 },
    { "undecided", { .range = any, .undecided = TRUE }, "y1a y2a", 2, 2 },
    { "differing", { .range = any, .disagreeing = TRUE }, "x2a", 1, 0 },
    { "marked", { .range = any, .marked = TRUE }, "y1a", 1, 1 },
    { "probably empty", { .range = any, .blank_from = 0.9 }, "x1a y2a", 2, 1 },
    { "half-open", { .range = { at ("2026-05-02T12:00:00Z"), at ("2026-05-02T12:10:00Z") } }, "x1a", 1, 0 },
    { "hours", { .range = any, .hour_from = 22 * 60, .hour_to = 6 * 60 }, "x2a y2a", 2, 1 },
    { "blank last", { .range = any, .order = TPT_FRAMES_BLANK_LAST }, "y1a x3a x2a x1a y2a", 5, 2 },
    { "blank first", { .range = any, .order = TPT_FRAMES_BLANK_FIRST }, "y2a x1a x2a y1a x3a", 5, 2 },
  };
  gint64 frame;

  put_cards (f);
  SAY ("x1a", .type = "animal", .species = "Tragulus kanchil", .by = "Mira");
  SAY ("x2a", .type = "blank", .by = "Mira");
  SAY ("x2a", .type = "animal", .species = "Hemigalus derbyanus", .by = "Jau");
  SAY ("x3a", .type = "blank", .by = "Mira");
  SAY ("x3a", .type = "blank", .by = "Jau");
  frame = frames_ref (f, "y1c").frame_id;
  {
    g_autoptr (TptJobMark) mark = tpt_job_mark_new (&frame, 1, "guests", TRUE, NULL);
    g_autoptr (TptDb) db = NULL;

    jobs_run (f, mark);
    db = tpt_db_open (f->path, TPT_DB_WRITE, NULL);
    g_assert_true (tpt_db_exec (db,
                                "UPDATE triggers SET blank_score = (SELECT CASE substr(min(f.frame), 1, 2) WHEN 'x1' THEN 0.9 WHEN 'x2' THEN 0.2"
                                " WHEN 'y2' THEN 0.95 END FROM frames f WHERE f.trigger_id = triggers.id)",
                                NULL));
  }
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptJobFrames) job = NULL;
      g_autofree char *found = NULL;
      TptFrameQuery query = cases[i].query;

      if (query.hour_from == 0)
        query.hour_from = -1;
      query.certainty_below = NAN;
      found = frames_find (f, &query, &job);
      g_test_message ("%s", cases[i].what);
      g_assert_cmpstr (found, ==, cases[i].found);
      g_assert_cmpint (tpt_job_frames_get_triggers (job), ==, cases[i].triggers);
      g_assert_cmpint (tpt_job_frames_get_undecided (job), ==, cases[i].undecided);
    }
}

/* There and back: what an action can carry, and nothing else. */
static void
test_variant (void)
{
  static const char *const stations[] = { "A", "B", NULL }, *const species[] = { "Meles meles", NULL };
  static const char *const animal[] = { "animal", NULL };
  const TptRange any = { TPT_NO_INSTANT, TPT_NO_INSTANT };
  const struct {
    TptFrameQuery query;
    const char *text;
  } cases[] = {
    { { .range = any, .hour_from = -1 }, "{}" },
    { { .stations = (GStrv) stations, .range = any, .hour_from = -1, .undecided = TRUE, .every_frame = TRUE },
      "{'stations': <['A', 'B']>}" },
    { { .types = (GStrv) animal, .range = { 5, TPT_NO_INSTANT }, .hour_from = -1 },
      "{'range': <(int64 5, int64 -9223372036854775808)>, 'types': <['animal']>}" },
    { { .species = (GStrv) species, .range = any, .hour_from = 1320, .hour_to = 240 },
      "{'hours': <(1320, 240)>, 'species': <['Meles meles']>}" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const TptFrameQuery *query = &cases[i].query;
      g_autoptr (GVariant) variant = g_variant_ref_sink (tpt_frame_query_to_variant (query));
      g_autoptr (GVariant) expected = g_variant_parse (G_VARIANT_TYPE_VARDICT, cases[i].text, NULL, NULL, NULL);
      g_autoptr (TptFrameQuery) back = tpt_frame_query_from_variant (variant);
      GVariantIter iter;
      const char *key;
      GVariant *value;

      g_assert_cmpuint (g_variant_n_children (variant), ==, g_variant_n_children (expected));
      g_variant_iter_init (&iter, expected);
      while (g_variant_iter_loop (&iter, "{&sv}", &key, &value))
        {
          g_autoptr (GVariant) found = g_variant_lookup_value (variant, key, g_variant_get_type (value));

          g_assert_cmpvariant (found, value);
        }
      g_assert_cmpint (back->range.from, ==, query->range.from);
      g_assert_cmpint (back->range.to, ==, query->range.to);
      g_assert_cmpint (back->hour_from, ==, query->hour_from);
      g_assert_true (query->hour_from < 0 || back->hour_to == query->hour_to);
      g_assert_true ((back->stations != NULL) == (query->stations != NULL));
      g_assert_true (query->stations == NULL || g_strv_equal (stations, (const char *const *) back->stations));
      g_assert_true (query->species == NULL || g_strv_equal (species, (const char *const *) back->species));
      g_assert_true (query->types == NULL || g_strv_equal (animal, (const char *const *) back->types));
      g_assert_false (back->undecided || back->every_frame);
    }
}

/* What a withdrawn card held is not there; an emptied trigger neither. */
static void
test_gone (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobRegroup) join = NULL;
  g_autoptr (TptJobBatches) batches = tpt_job_batches_new ();
  g_autofree char *before = NULL, *after = NULL, *joined = NULL;
  const TptBatchState *state;

  put_cards (f);
  before = frames_find (f, query, NULL);
  jobs_undo (f, FALSE);
  after = frames_find (f, query, NULL);
  g_assert_cmpstr (before, ==, "x1a y1a x2a x3a y2a");
  g_assert_cmpstr (after, ==, "x1a x2a x3a");
  join = tpt_job_regroup_new_join (frames_ref (f, "x3a").trigger_id);
  jobs_run (f, join);
  joined = frames_find (f, query, NULL);
  g_assert_cmpstr (joined, ==, "x1a x2a");
  SAY ("x3c", .type = "blank");
  jobs_run (f, batches);
  g_assert_cmpuint (tpt_job_batches_get_batches (batches)->len, ==, 1);
  state = tpt_job_batches_get_batches (batches)->pdata[0];
  g_assert_cmpstr (state->batch, ==, "D1-B01");
  g_assert_cmpstr (state->station_title, ==, "Otter bank");
  g_assert_cmpint (state->triggers, ==, 2);
  g_assert_cmpint (state->undecided, ==, 1);
}

/* A frame without a time belongs to no trigger: it is listed, last, and nothing
 * can be said of it. */
static void
test_timeless (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobFrames) job = NULL;
  g_autoptr (TptJobDecide) decide = NULL;
  g_autofree char *all = NULL, *undecided = NULL;
  TptFrameRef ref;

  jobs_import (f, "frame,deployment,file,camera_time\nz,D1,pictures/z.jpg,\nt,D1,pictures/t.jpg,2026-05-02T20:00:00\n");
  all = frames_find (f, query, &job);
  g_assert_cmpstr (all, ==, "t z");
  g_assert_cmpint (tpt_job_frames_get_triggers (job), ==, 2);
  g_assert_cmpint (tpt_job_frames_get_undecided (job), ==, 1);
  query->undecided = TRUE;
  undecided = frames_find (f, query, NULL);
  g_assert_cmpstr (undecided, ==, "t");
  ref = frames_ref (f, "z");
  g_assert_cmpint (ref.trigger_id, ==, 0);
  decide = tpt_job_decide_new (&ref.trigger_id, 1, &(TptDecision){ .type = "blank", .certainty = NAN });
  jobs_run (f, decide);
  g_assert_cmpint (tpt_job_decide_get_changed (decide), ==, 0);
}

/* Night by the sun at the station: on the Equator at 115 degrees east it sets
 * near 18:10 of the zone (UTC+8), and civil twilight lasts some twenty minutes. */
static void
test_row (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *frame;
    int night, place;
    const char *title;
  } cases[] = { { "x1b", 1, 1, "Otter bank" }, { "x3c", 0, 2, "Otter bank" }, { "y2a", 1, 0, "RIDGE" } };
  g_autofree char *path = NULL;

  put_cards (f);
  SAY ("x1a", .type = "animal", .species = "Tragulus kanchil", .count = 2, .sex = "female");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const codes[] = { cases[i].frame, NULL };
      g_autoptr (TptJobFrameRows) job = tpt_job_frame_rows_new_for_codes (codes);
      const TptFrameRow *row;

      jobs_run (f, job);
      row = tpt_job_frame_rows_get_rows (job)->pdata[0];
      g_assert_cmpint (row->night, ==, cases[i].night);
      g_assert_cmpint (row->place, ==, cases[i].place);
      g_assert_cmpint (row->n_frames, ==, 3);
      g_assert_cmpstr (row->station_title, ==, cases[i].title);
      g_assert_cmpstr (row->kind, ==, "jpeg");
      g_assert_true (isnan (row->blank_score) && isnan (row->temperature_c) && row->flash == -1 && !row->marked);
      g_assert_cmpint (tpt_frame_row_is_decided (row), ==, i == 0);
      if (i == 0)
        {
          g_autofree char *said = tpt_frame_row_describe (row);

          path = jobs_path (f, "pictures/x1b.jpg");
          g_assert_cmpstr (said, ==, "2 Lesser mouse-deer, female");
          g_assert_cmpstr (row->path, ==, path);
        }
    }
}

static void
run_until_read (TptFrameItem *item)
{
  gint64 until = g_get_monotonic_time () + 30 * G_USEC_PER_SEC;

  while (tpt_frame_item_get_row (item) == NULL && g_get_monotonic_time () < until)
    g_main_context_iteration (NULL, FALSE);
  g_assert_nonnull (tpt_frame_item_get_row (item));
}

static TptFrameList *
make_list (JobsFixture *f)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobFrames) job = NULL;
  TptFrameList *list = tpt_frame_list_new (f->project);

  query->every_frame = TRUE;
  job = tpt_job_frames_new (query);
  jobs_run (f, job);
  tpt_frame_list_take_refs (list, tpt_job_frames_steal_refs (job));
  return list;
}

static void
count_cb (gpointer item, guint *n)
{
  (*n)++;
}

static void
test_list (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFrameList) list = NULL;
  g_autoptr (TptFrameItem) item = NULL;
  g_autoptr (TptFrameItem) same = NULL;
  g_autofree char *said = NULL;
  TptFrameRef ref;
  guint changed = 0;

  put_cards (f);
  list = make_list (f);
  ref = frames_ref (f, "y2b");
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), ==, 15);
  g_assert_null (g_list_model_get_item (G_LIST_MODEL (list), 15));
  g_assert_cmpint (tpt_frame_list_get_ref (list, 15).frame_id, ==, 0);
  g_assert_cmpint (tpt_frame_list_get_ref (list, 13).frame_id, ==, ref.frame_id);
  g_assert_cmpuint (tpt_frame_list_find_trigger (list, ref.trigger_id), ==, 12);
  g_assert_cmpuint (tpt_frame_list_find_trigger (list, 4711), ==, G_MAXUINT);

  item = g_list_model_get_item (G_LIST_MODEL (list), 13);
  g_assert_null (tpt_frame_item_get_row (item));
  same = g_list_model_get_item (G_LIST_MODEL (list), 13);
  g_assert_true (item == same);
  g_signal_connect (item, "changed", G_CALLBACK (count_cb), &changed);
  run_until_read (item);
  g_assert_cmpstr (tpt_frame_item_get_row (item)->frame, ==, "y2b");
  g_assert_cmpuint (changed, ==, 1);

  SAY ("y2b", .type = "human");
  tpt_frame_list_refresh (list);
  while (changed < 2)
    g_main_context_iteration (NULL, TRUE);
  said = tpt_frame_row_describe (tpt_frame_item_get_row (item));
  g_assert_cmpstr (said, ==, "Human");
  tpt_frame_list_stop (list);
}

#define FAR 1000000
#define STEP 60 /* a screen of a grid */

/* A million frames scrolled through: few are in memory at any time. The project
 * has only some; their keys are repeated. */
static void
test_far (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFrameList) list = NULL;
  g_autoptr (GPtrArray) shown = g_ptr_array_new_with_free_func (g_object_unref);
  GArray *refs = g_array_new (FALSE, FALSE, sizeof (TptFrameRef));
  glong resident = 0, most = 0;
  gint64 longest = 0;

  put_cards (f);
  list = make_list (f);
  for (guint i = 0; i < FAR; i++)
    {
      TptFrameRef ref = tpt_frame_list_get_ref (list, i % 15);
      g_array_append_val (refs, ref);
    }
  tpt_frame_list_take_refs (list, refs);
  for (guint top = 0; top + STEP < FAR; top += top % 40 == 0 ? STEP : 4000)
    {
      g_ptr_array_set_size (shown, 0);
      for (guint i = 0; i < STEP; i++)
        {
          gint64 began = g_get_monotonic_time ();

          g_ptr_array_add (shown, g_list_model_get_item (G_LIST_MODEL (list), top + i));
          longest = MAX (longest, g_get_monotonic_time () - began);
        }
      run_until_read (shown->pdata[0]);
      if (top < FAR / 10)
        resident = frames_resident_kb ();
      most = MAX (most, frames_resident_kb ());
    }
  g_test_message ("longest get_item %.2f ms; %ld KB more", (double) longest / 1000, most - resident);
  g_assert_cmpint (most - resident, <, 8192);
  tpt_frame_list_stop (list);
}

/* The keys are replaced while pages are under way: what comes late is not taken for another frame's. */
static void
test_replaced (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptFrameList) list = NULL;
  g_autoptr (TptFrameItem) old = NULL;
  g_autoptr (TptFrameItem) item = NULL;
  GArray *refs = g_array_new (FALSE, FALSE, sizeof (TptFrameRef));
  TptFrameRef ref;

  put_cards (f);
  list = make_list (f);
  ref = frames_ref (f, "y2c");
  old = g_list_model_get_item (G_LIST_MODEL (list), 0);
  g_array_append_val (refs, ref);
  tpt_frame_list_take_refs (list, refs);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), ==, 1);
  item = g_list_model_get_item (G_LIST_MODEL (list), 0);
  g_assert_true (item != old);
  run_until_read (item);
  g_assert_cmpstr (tpt_frame_item_get_row (item)->frame, ==, "y2c");
  g_assert_null (tpt_frame_item_get_row (old));
  tpt_frame_list_stop (list);
}

int
main (int argc, char *argv[])
{
  g_setenv ("LC_ALL", "C.UTF-8", TRUE);
  g_test_init (&argc, &argv, NULL);
#define ADD_FRAMES(name, function) g_test_add (name, JobsFixture, NULL, frames_set_up, function, jobs_tear_down)
  g_test_add_func ("/frames/variant", test_variant);
  ADD_FRAMES ("/frames/queries", test_queries);
  ADD_FRAMES ("/frames/gone", test_gone);
  ADD_FRAMES ("/frames/timeless", test_timeless);
  ADD_FRAMES ("/frames/row", test_row);
  ADD_FRAMES ("/frames/list", test_list);
  ADD_FRAMES ("/frames/replaced", test_replaced);
  ADD_FRAMES ("/frames/far", test_far);
  return g_test_run ();
}
