#include "config.h"

#include <adwaita.h>
#include <math.h>

#include "db.h"
#include "tpt-batch-line.h"
#include "tpt-frame-cell.h"
#include "tpt-frame-filter-words.h"
#include "tpt-frame-words.h"
#include "tpt-job-decide.h"
#include "tpt-job-frames.h"
#include "tpt-job-undo.h"
#include "tpt-settings.h"
#include "tpt-sorting-private.h"
#include "tpt-style.h"
#include "frame-helpers.h"

#define MISSING_TRIGGER (N_TRIGGERS - 1) /* its pictures are not there */

/* --- words ---------------------------------------------------------------------- */

static void
test_sentence (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  static const char *const stations[] = { "A", NULL }, *const species[] = { "Meles meles", NULL };
  static const char *const human[] = { "human", NULL };
  const TptInstant june = tpt_instant_parse ("2026-06-01T00:00:00", zone, NULL);
  const struct {
    TptFrameQuery query;
    const char *words;
    gboolean narrow, of_decisions;
  } cases[] = {
    { { .certainty_below = NAN }, "All triggers, by time.", FALSE, FALSE },
    { { .certainty_below = NAN, .every_frame = TRUE }, "All frames, by time.", FALSE, FALSE },
    { { .certainty_below = NAN, .undecided = TRUE, .batch = (char *) "LAND-B3", .order = TPT_FRAMES_BLANK_LAST },
      "Undecided triggers of card LAND-B3, probably empty last.", TRUE, TRUE },
    { { .certainty_below = NAN, .batch = (char *) "LAND-B3" }, "All triggers of card LAND-B3, by time.", TRUE, FALSE },
    { { .certainty_below = NAN, .stations = (GStrv) stations, .species = (GStrv) species },
      "All triggers at Alder ford that show Badger, by time.", TRUE, TRUE },
    { { .certainty_below = NAN, .types = (GStrv) human, .marked = TRUE, .order = TPT_FRAMES_BLANK_FIRST },
      "All triggers that show people, good for guests, probably empty first.", TRUE, TRUE },
    { { .certainty_below = 0.75, .disagreeing = TRUE },
      "All triggers, opinions differ, named less than probable, by time.", TRUE, TRUE },
    { { .certainty_below = 0.6 }, "All triggers, named with a certainty below 0.60, by time.", TRUE, TRUE },
    { { .certainty_below = NAN, .range = { june, june + 2 * TPT_DAY } },
      "All triggers, 1 June 2026 to 2 June 2026, by time.", TRUE, FALSE },
    { { .certainty_below = NAN, .range = { TPT_NO_INSTANT, june } }, "All triggers, until 31 May 2026, by time.", TRUE, FALSE },
    { { .certainty_below = NAN, .range = { june + TPT_HOUR, june + 2 * TPT_HOUR } },
      "All triggers, 1 June 2026 01:00 to 1 June 2026 02:00, by time.", TRUE, FALSE },
    { { .certainty_below = NAN, .hour_from = 22 * 60, .hour_to = 4 * 60 + 30 },
      "All triggers, 22:00 to 04:30, by time.", TRUE, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const TptFrameQuery *query = &cases[i].query;
      g_autofree char *words = tpt_frame_filter_words (query, query->stations != NULL ? "Alder ford" : NULL,
                                                       query->species != NULL ? "Badger" : NULL, zone);

      g_assert_cmpstr (words, ==, cases[i].words);
      g_assert_cmpint (tpt_frame_filter_is_narrow (query), ==, cases[i].narrow);
      g_assert_cmpint (tpt_frame_filter_is_of_decisions (query), ==, cases[i].of_decisions);
    }
}

static void
test_short_time (void)
{
  static const struct {
    const char *at;
    const char *words;
  } cases[] = {
    { "2026-11-16T22:05:59Z", "16 Nov 23:05" },
    { "2026-06-30T22:30:00Z", "1 Jul 00:30" }, /* summer time, and the day after */
    { "1969-12-31T22:59:00Z", "31 Dec 23:59" },
    { NULL, "time unknown" },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptFrameRow row = { .at = cases[i].at != NULL ? tpt_instant_parse (cases[i].at, NULL, NULL) : TPT_NO_INSTANT };
      g_autofree char *words = tpt_frame_words_short_time (&row, zone);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

static void
test_progress (void)
{
  static const struct {
    gint64 triggers, undecided;
    const char *words;
  } cases[] = {
    { 312, 298, "298 of 312 triggers to name" }, { 1, 1, "1 of 1 trigger to name" }, { 312, 0, "All 312 triggers named" },
    { 1, 0, "The 1 trigger is named" },          { 0, 0, "No triggers" },            { 4218, 1200, "1,200 of 4,218 triggers to name" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptBatchState state = { .triggers = cases[i].triggers, .undecided = cases[i].undecided };
      g_autofree char *words = tpt_batch_words_progress (&state);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* --- what is chosen ----------------------------------------------------------------- */

/* A model that must not be asked for its items. */
typedef struct {
  GObject parent_instance;
  guint n;
  guint asked;
} Shy;
typedef GObjectClass ShyClass;

static GType shy_get_type (void);
static void shy_init_model (GListModelInterface *iface);
G_DEFINE_TYPE_WITH_CODE (Shy, shy, G_TYPE_OBJECT, G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, shy_init_model))

static GType
shy_get_item_type (GListModel *model)
{
  return G_TYPE_OBJECT;
}

static guint
shy_get_n_items (GListModel *model)
{
  return ((Shy *) model)->n;
}

static gpointer
shy_get_item (GListModel *model, guint position)
{
  ((Shy *) model)->asked++;
  return g_object_new (G_TYPE_OBJECT, NULL);
}

static void
shy_init_model (GListModelInterface *iface)
{
  iface->get_item_type = shy_get_item_type;
  iface->get_n_items = shy_get_n_items;
  iface->get_item = shy_get_item;
}

static void
shy_class_init (ShyClass *klass)
{
}

static void
shy_init (Shy *self)
{
}

static void
count_cb (guint *counter)
{
  (*counter)++;
}

static void
assert_chosen (TptFrameSelection *selection, guint64 n, guint first, guint last)
{
  const GtkBitset *chosen = tpt_frame_selection_get_chosen (selection);

  g_assert_cmpuint (gtk_bitset_get_size (chosen), ==, n);
  if (n == 0)
    return;
  g_assert_cmpuint (gtk_bitset_get_minimum (chosen), ==, first);
  g_assert_cmpuint (gtk_bitset_get_maximum (chosen), ==, last);
}

static void
test_selection (void)
{
  g_autoptr (TptFrameSelection) selection = tpt_frame_selection_new ();
  g_autoptr (GObject) shy = g_object_new (shy_get_type (), NULL);
  g_autoptr (GtkBitset) some = gtk_bitset_new_range (5, 10);
  GtkSelectionModel *model = GTK_SELECTION_MODEL (selection);
  guint changes = 0;

  ((Shy *) shy)->n = 1000000;
  tpt_frame_selection_set_model (selection, G_LIST_MODEL (shy));
  g_signal_connect_swapped (model, "selection-changed", G_CALLBACK (count_cb), &changes);
  gtk_selection_model_select_all (model);
  assert_chosen (selection, 1000000, 0, 999999);
  gtk_selection_model_unselect_range (model, 10, 999990);
  assert_chosen (selection, 10, 0, 9);
  gtk_selection_model_select_item (model, 500000, FALSE);
  assert_chosen (selection, 11, 0, 500000);
  g_assert_true (gtk_selection_model_is_selected (model, 500000));
  g_assert_false (gtk_selection_model_is_selected (model, 10));
  gtk_selection_model_select_item (model, 7, TRUE);
  assert_chosen (selection, 1, 7, 7);
  g_assert_cmpuint (changes, ==, 4);
  gtk_selection_model_select_item (model, 7, TRUE); /* nothing changes, nothing is told */
  g_assert_cmpuint (changes, ==, 4);

  tpt_frame_selection_choose (selection, some);
  assert_chosen (selection, 10, 5, 14);
  ((Shy *) shy)->n -= 3; /* two before them and the first of them go */
  g_list_model_items_changed (G_LIST_MODEL (shy), 3, 3, 0);
  assert_chosen (selection, 9, 3, 11);
  gtk_selection_model_unselect_all (model);
  assert_chosen (selection, 0, 0, 0);
  g_assert_cmpuint (((Shy *) shy)->asked, ==, 0);
}

/* --- batches -------------------------------------------------------------------------- */

static TptBatchState *
make_state (const char *batch, gint64 triggers, gint64 undecided, gint64 disagreements)
{
  TptBatchState *state = g_new0 (TptBatchState, 1);

  state->batch = g_strdup (batch);
  state->station_title = g_strdup ("Alder ford");
  state->first = tpt_instant_parse ("2026-06-03T00:00:00Z", NULL, NULL);
  state->last = tpt_instant_parse ("2026-06-10T00:00:00Z", NULL, NULL);
  state->triggers = triggers;
  state->undecided = undecided;
  state->disagreements = disagreements;
  return state;
}

static void
free_state (gpointer data)
{
  TptBatchState *state = data;

  g_free (state->batch);
  g_free (state->station_title);
  g_free (state);
}

static void
test_batches (void)
{
  TptBatchList *list = g_object_ref_sink (tpt_batch_list_new ());
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);
  g_autoptr (GPtrArray) two = g_ptr_array_new_with_free_func (free_state);
  g_autoptr (GPtrArray) one = g_ptr_array_new_with_free_func (free_state);
  GtkListBox *rows = GTK_LIST_BOX (find_inside (GTK_WIDGET (list), GTK_TYPE_LIST_BOX));
  GtkListBoxRow *row;
  guint told = 0;

  g_ptr_array_add (two, make_state ("B2", 10, 4, 2));
  g_ptr_array_add (two, make_state ("B1", 20, 0, 0));
  g_ptr_array_add (one, make_state ("B2", 10, 3, 2));
  g_signal_connect_swapped (list, "chosen", G_CALLBACK (count_cb), &told);
  tpt_batch_list_set_batches (list, two, zone, tpt_instant_parse ("2026-07-01T00:00:00Z", NULL, NULL));
  g_assert_null (tpt_batch_list_get_chosen (list));
  g_assert_cmpint (tpt_batch_list_get_state (list)->triggers, ==, 30);
  g_assert_cmpint (tpt_batch_list_get_state (list)->undecided, ==, 4);
  gtk_list_box_select_row (rows, gtk_list_box_get_row_at_index (rows, 2));
  g_assert_cmpstr (tpt_batch_list_get_chosen (list), ==, "B1");
  g_assert_cmpuint (told, ==, 1);
  row = gtk_list_box_get_row_at_index (rows, 1);
  gtk_test_accessible_assert_property (row, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Alder ford; B2, 3 to 10 June; 4 of 10 triggers to name; 2 disagreements");

  tpt_batch_list_set_batches (list, one, zone, tpt_instant_parse ("2026-07-01T00:00:00Z", NULL, NULL)); /* B1 is gone */
  g_assert_null (tpt_batch_list_get_chosen (list));
  g_assert_cmpuint (told, ==, 2);
  g_assert_true (gtk_list_box_get_row_at_index (rows, 1) == row);
  g_assert_null (gtk_list_box_get_row_at_index (rows, 2));
  g_object_unref (list);
}

/* The batch that is chosen is scored first, then those with something to name, the newest first. */
static void
test_score_order (void)
{
  static const struct {
    const char *batch;
    gint64 undecided, scored;
  } states[] = { { "B5", 0, 0 }, { "B4", 3, 0 }, { "B3", 3, 10 }, { "B2", 0, 4 }, { "B1", 1, 9 } };
  static const struct {
    const char *chosen;
    const char *order[5];
  } cases[] = {
    { NULL, { "B4", "B1", "B5", "B2" } }, { "B2", { "B2", "B4", "B1", "B5" } }, { "B3", { "B4", "B1", "B5", "B2" } }
  };
  TptBatchList *list = g_object_ref_sink (tpt_batch_list_new ());
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);
  g_autoptr (GPtrArray) batches = g_ptr_array_new_with_free_func (free_state);

  for (gsize i = 0; i < G_N_ELEMENTS (states); i++)
    {
      TptBatchState *state = make_state (states[i].batch, 10, states[i].undecided, 0);

      state->scored = states[i].scored;
      g_ptr_array_add (batches, state);
    }
  tpt_batch_list_set_batches (list, batches, zone, tpt_instant_parse ("2026-07-01T00:00:00Z", NULL, NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GHashTable) done = g_hash_table_new (g_str_hash, g_str_equal);

      tpt_batch_list_set_chosen (list, cases[i].chosen);
      for (guint k = 0; cases[i].order[k] != NULL; k++)
        {
          const TptBatchState *next = tpt_batch_list_find_next (list, done);

          g_assert_nonnull (next);
          g_assert_cmpstr (next->batch, ==, cases[i].order[k]);
          g_hash_table_add (done, next->batch);
        }
      g_assert_null (tpt_batch_list_find_next (list, done));
    }
  g_object_unref (list);
}

/* --- the page --------------------------------------------------------------------------- */

typedef struct {
  char *folder;
  char *path;
  TptProject *project;
  GtkWidget *window;
  TptSortingPage *page;
  char *said; /* the last toast */
} Fixture;

static void
say_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  Fixture *f = data;

  g_free (f->said);
  f->said = g_variant_dup_string (message, NULL);
}

static void
calm_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  Fixture *f = data;

  if (g_strcmp0 (f->said, g_variant_get_string (message, NULL)) == 0)
    g_clear_pointer (&f->said, g_free);
}

static gboolean
is_settled (gpointer data)
{
  return tpt_sorting_page_is_settled (((Fixture *) data)->page);
}

static void
settle (Fixture *f)
{
  ui_settle ();
  ui_wait (is_settled, f);
  ui_settle ();
}

/* @data: without pictures when not %NULL. */
static void
set_up (Fixture *f, gconstpointer data)
{
  static const GActionEntry actions[] = { { "say", say_cb, "s" }, { "toast", say_cb, "s" }, { "complain", say_cb, "s" },
                                         { "calm", calm_cb, "s" } };
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();

  f->folder = g_dir_make_tmp ("sorting-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "a.gpkg", NULL);
  f->project = ui_make_project (f->path);
  frames_add_species (f->project, "Meles meles", "Badger");
  frames_add_species (f->project, "Vulpes vulpes", "Red fox");
  if (data == NULL)
    frames_import (f->project, f->folder, MISSING_TRIGGER);
  tpt_settings_set_text ("person", "Mira");
  f->window = g_object_ref_sink (gtk_window_new ());
  f->page = tpt_sorting_page_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (group), actions, G_N_ELEMENTS (actions), f);
  gtk_widget_insert_action_group (f->window, "win", G_ACTION_GROUP (group));
  gtk_window_set_child (GTK_WINDOW (f->window), GTK_WIDGET (f->page));
  gtk_window_set_default_size (GTK_WINDOW (f->window), 1280, 760);
  gtk_window_present (GTK_WINDOW (f->window));
  tpt_sorting_page_set_project (f->page, f->project);
  settle (f);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  tpt_settings_set_text ("person", "");
  gtk_window_destroy (GTK_WINDOW (f->window));
  ui_settle ();
  g_assert_finalize_object (f->window);
  g_object_unref (f->project);
  ui_remove_tree (f->folder);
  g_free (f->folder);
  g_free (f->path);
  g_free (f->said);
}

static guint
count_frames (Fixture *f)
{
  return g_list_model_get_n_items (G_LIST_MODEL (f->page->list));
}

static void
choose (Fixture *f, guint first, guint n)
{
  g_autoptr (GtkBitset) positions = gtk_bitset_new_range (first, n);

  tpt_frame_selection_choose (tpt_frame_grid_get_selection (f->page->grid), positions);
}

static void
press (Fixture *f, const char *label)
{
  GtkWidget *button = find_button (GTK_WIDGET (f->page), label);

  g_assert_nonnull (button);
  g_assert_true (gtk_widget_is_sensitive (button));
  g_signal_emit_by_name (button, "clicked");
  settle (f);
}

static void
assert_middle (Fixture *f, const char *name)
{
  g_assert_cmpstr (gtk_stack_get_visible_child_name (f->page->middle), ==, name);
}

/* (nullable): the cell of a position. */
static TptFrameCell *
find_cell (GtkWidget *root, guint position)
{
  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      TptFrameCell *found = TPT_IS_FRAME_CELL (at) && tpt_frame_cell_get_position (TPT_FRAME_CELL (at)) == position
                              ? TPT_FRAME_CELL (at)
                              : find_cell (at, position);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static const char *
get_text (Fixture *f, guint position)
{
  TptFrameCell *cell = find_cell (GTK_WIDGET (f->page->grid), position);

  g_assert_nonnull (cell);
  return tpt_frame_cell_get_text (cell);
}

static void
test_empty (Fixture *f, gconstpointer data)
{
  assert_middle (f, "empty");
  g_assert_nonnull (find_button (GTK_WIDGET (f->page), "Take in a card…"));
  g_assert_false (gtk_widget_get_sensitive (f->page->changes));
}

static void
test_list (Fixture *f, gconstpointer data)
{
  TptFrameCell *cell = find_cell (GTK_WIDGET (f->page->grid), 0);

  assert_middle (f, "grid");
  g_assert_cmpuint (count_frames (f), ==, N_TRIGGERS);
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==, "All triggers, by time.");
  g_assert_cmpstr (gtk_label_get_label (f->page->count), ==, "6 triggers, 6 undecided");
  g_assert_false (gtk_widget_get_sensitive (f->page->clear));
  g_assert_cmpstr (get_text (f, 0), ==, "Alder ford, 2 March 2026 23:15:00\nundecided\n3 frames");
  gtk_test_accessible_assert_property (gtk_widget_get_parent (GTK_WIDGET (cell)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Alder ford, 2 March 2026 23:15:00; undecided; 3 frames");
  gtk_test_accessible_assert_property (f->page->person_button, GTK_ACCESSIBLE_PROPERTY_LABEL, "Naming as Mira");
}

/* Many at once are one step to take back; what was chosen stays chosen. */
static void
test_change (Fixture *f, gconstpointer data)
{
  g_autoptr (TptJobUndo) undo = tpt_job_undo_new (FALSE);
  GError *error = NULL;

  choose (f, 1, 3);
  g_assert_cmpstr (gtk_label_get_label (f->page->chosen), ==, "3 triggers chosen");
  press (f, "Blank");
  g_assert_cmpstr (f->said, ==, "3 triggers named blank");
  g_assert_cmpstr (gtk_label_get_label (f->page->count), ==, "6 triggers, 3 undecided");
  assert_chosen (tpt_frame_grid_get_selection (f->page->grid), 3, 1, 3);
  g_assert_nonnull (strstr (get_text (f, 1), "Blank"));
  g_assert_nonnull (strstr (get_text (f, 4), "undecided"));
  tpt_project_run (f->project, TPT_JOB (undo), NULL, &error);
  g_assert_no_error (error);
  settle (f);
  g_assert_cmpstr (gtk_label_get_label (f->page->count), ==, "6 triggers, 6 undecided");
  g_assert_nonnull (strstr (get_text (f, 1), "undecided"));
}

static void
test_types (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *button;
    const char *said;
    const char *shown;
  } cases[] = {
    { "Human", "1 trigger named human", "Human" },
    { "Vehicle", "1 trigger named vehicle", "Vehicle" },
    { "Unknown", "1 trigger named unknown", "Unknown" },
    { "Take back", "What you said of 1 trigger is taken back", "undecided" },
    { "Mark for guests", "Marked as good for guests", "good for guests" },
  };

  choose (f, 2, 1);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      press (f, cases[i].button);
      g_assert_cmpstr (f->said, ==, cases[i].said);
      g_assert_nonnull (strstr (get_text (f, 2), cases[i].shown));
    }
}

/* A second person's word stands beside the first. */
static void
test_beside (Fixture *f, gconstpointer data)
{
  choose (f, 0, 2);
  press (f, "Blank");
  gtk_editable_set_text (f->page->person_entry, " Jau ");
  g_signal_emit_by_name (gtk_menu_button_get_popover (f->page->person_button), "closed");
  gtk_test_accessible_assert_property (f->page->person_button, GTK_ACCESSIBLE_PROPERTY_LABEL, "Naming as Jau");
  choose (f, 1, 2);
  press (f, "Human");
  g_assert_cmpstr (f->said, ==, "1 trigger named human; 1 opinion kept beside what somebody else said; it counts once you let it");
  g_assert_nonnull (strstr (get_text (f, 1), "Blank"));
  g_assert_nonnull (strstr (get_text (f, 1), "opinions differ"));
  g_assert_nonnull (strstr (get_text (f, 2), "Human"));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_button (GTK_WIDGET (f->page), "Opinions differ")), TRUE);
  settle (f);
  g_assert_cmpuint (count_frames (f), ==, 1);
}

/* What is decided leaves a list of the undecided; where the keyboard was, it goes on. */
static void
test_filter (Fixture *f, gconstpointer data)
{
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_button (GTK_WIDGET (f->page), "Undecided")), TRUE);
  settle (f);
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==, "Undecided triggers, by time.");
  g_assert_true (gtk_widget_get_sensitive (f->page->clear));
  choose (f, 1, 2);
  press (f, "Blank");
  g_assert_cmpuint (count_frames (f), ==, 4);
  gtk_selection_model_select_all (GTK_SELECTION_MODEL (tpt_frame_grid_get_selection (f->page->grid)));
  press (f, "Human");
  assert_middle (f, "none");
  g_assert_false (gtk_widget_get_sensitive (f->page->changes));
  press (f, "Show all triggers");
  assert_middle (f, "grid");
  g_assert_cmpuint (count_frames (f), ==, N_TRIGGERS);
  g_assert_false (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (find_button (GTK_WIDGET (f->page), "Undecided"))));
}

/* What the findings ask for: the list and its sentence are about it, the drop-downs say so, and
 * it is all left again. */
static void
test_query (Fixture *f, gconstpointer data)
{
  static const char *const alder[] = { "ALDER", NULL }, *const two[] = { "ALDER", "BIRCH", NULL };
  const TptInstant night = tpt_instant_parse ("2026-03-04T00:00:00", tpt_project_get_zone (f->project), NULL);
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  GtkWidget *back = find_button (GTK_WIDGET (f->page), "Back to findings");

  g_assert_false (gtk_widget_get_visible (back));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_button (GTK_WIDGET (f->page), "Undecided")), TRUE);
  settle (f);
  query->stations = g_strdupv ((char **) alder);
  query->range = (TptRange){ night, night + 2 * TPT_DAY };
  query->hour_from = 23 * 60;
  query->hour_to = 60;
  tpt_sorting_page_show_query (f->page, query);
  settle (f);
  g_assert_cmpuint (count_frames (f), ==, 2);
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==,
                   "All triggers at Alder ford, 4 March 2026 to 5 March 2026, 23:00 to 01:00, by time.");
  g_assert_true (gtk_widget_get_visible (back));
  g_assert_cmpstr (gtk_actionable_get_action_name (GTK_ACTIONABLE (back)), ==, "win.page");

  query->range = (TptRange){ TPT_NO_INSTANT, TPT_NO_INSTANT };
  query->hour_from = -1;
  g_strfreev (query->stations);
  query->stations = g_strdupv ((char **) two);
  tpt_sorting_page_show_query (f->page, query);
  settle (f);
  g_assert_cmpuint (count_frames (f), ==, N_TRIGGERS);
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==, "All triggers at Alder ford and BIRCH, by time.");

  press (f, "Clear");
  g_assert_false (gtk_widget_get_visible (back));
  g_assert_cmpuint (count_frames (f), ==, N_TRIGGERS);
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==, "All triggers, by time.");
}

static gboolean
shows_naming (gpointer data)
{
  return g_str_equal (gtk_stack_get_visible_child_name (((Fixture *) data)->page->stack), "naming");
}

/* While naming a list of the undecided stays as it is; back in it, it is looked for anew. */
static void
test_naming (Fixture *f, gconstpointer data)
{
  TptDecision decision = { .type = "blank", .certainty = NAN, .by = "Mira" };
  gint64 id = tpt_frame_list_get_ref (f->page->list, 2).trigger_id;
  gint64 next = tpt_frame_list_get_ref (f->page->list, 3).trigger_id;
  g_autoptr (TptJobDecide) job = tpt_job_decide_new (&id, 1, &decision);
  GError *error = NULL;

  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_button (GTK_WIDGET (f->page), "Undecided")), TRUE);
  settle (f);
  g_signal_emit_by_name (find_inside (GTK_WIDGET (f->page->grid), GTK_TYPE_GRID_VIEW), "activate", 2);
  ui_wait (shows_naming, f);
  ui_settle ();
  g_assert_cmpuint (tpt_naming_view_get_position (f->page->naming), ==, 2);
  g_assert_cmpstr (tpt_naming_view_get_person (f->page->naming), ==, "Mira");
  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  settle (f);
  g_assert_cmpuint (count_frames (f), ==, N_TRIGGERS);
  g_signal_emit_by_name (f->page->naming, "back");
  settle (f);
  g_assert_cmpuint (count_frames (f), ==, N_TRIGGERS - 1);
  g_assert_true (tpt_frame_grid_has_focus (f->page->grid));
  g_assert_cmpint (tpt_frame_list_get_ref (f->page->list, tpt_frame_grid_get_position (f->page->grid)).trigger_id, ==, next);
}

/* A card's clock is offered with the card; an order by scores says that there are none. */
static void
test_card (Fixture *f, gconstpointer data)
{
  GtkListBox *rows = GTK_LIST_BOX (find_inside (GTK_WIDGET (f->page->batches), GTK_TYPE_LIST_BOX));
  GtkDropDown *order = GTK_DROP_DOWN (gtk_widget_get_template_child (GTK_WIDGET (f->page->filter), TPT_TYPE_FRAME_FILTER, "order"));
  g_autofree char *batch = NULL;

  g_assert_false (gtk_widget_get_visible (f->page->clock));
  gtk_drop_down_set_selected (order, TPT_FRAMES_BLANK_LAST);
  settle (f);
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==, "All triggers, probably empty last. 6 have no score yet.");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_button (GTK_WIDGET (f->page), "Undecided")), TRUE);
  settle (f);
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==,
                   "Undecided triggers, probably empty last. Some may have no score yet.");
  gtk_list_box_select_row (rows, gtk_list_box_get_row_at_index (rows, 1));
  settle (f);
  batch = g_strdup (tpt_batch_list_get_chosen (f->page->batches));
  g_assert_nonnull (batch);
  g_assert_true (gtk_widget_get_sensitive (f->page->clear));
  g_assert_true (gtk_widget_get_visible (f->page->clock));
  g_assert_cmpstr (g_variant_get_string (gtk_actionable_get_action_target_value (GTK_ACTIONABLE (f->page->clock)), NULL), ==, batch);
  press (f, "Clear"); /* all but the order */
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==, "All triggers, probably empty last. 6 have no score yet.");
  g_assert_null (tpt_batch_list_get_chosen (f->page->batches));
  g_assert_false (gtk_widget_get_sensitive (f->page->clear));
}

static gboolean
types_in_search (gpointer data)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (((Fixture *) data)->window));

  return focus != NULL && gtk_widget_get_ancestor (focus, GTK_TYPE_SEARCH_ENTRY) != NULL;
}

/* Whoever opens the list of species can type at once. */
static void
test_species_search (Fixture *f, gconstpointer data)
{
  GtkWidget *filter = GTK_WIDGET (f->page->filter);
  GtkWidget *species = GTK_WIDGET (gtk_widget_get_template_child (filter, TPT_TYPE_FRAME_FILTER, "species"));
  GtkMenuButton *more = GTK_MENU_BUTTON (gtk_widget_get_ancestor (gtk_widget_get_ancestor (species, GTK_TYPE_POPOVER), GTK_TYPE_MENU_BUTTON));

  gtk_menu_button_popup (more);
  ui_settle ();
  gtk_widget_activate (species);
  ui_wait (types_in_search, f);
}

/* The trigger without its pictures gets none, and the look still comes to an end. */
static void
test_score (Fixture *f, gconstpointer data)
{
  press (f, "Look for empty triggers");
  g_assert_cmpstr (f->said, ==, "5 of 6 triggers got a score for being empty");
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (f->page->score_bar)));
  g_assert_true (gtk_widget_get_visible (f->page->score_start));
}

/* Two of six have a score of 0.9, one has 0.4; frames within a trigger share it. */
static void
test_probably_empty (Fixture *f, gconstpointer data)
{
  g_autoptr (TptDb) db = tpt_db_open (f->path, TPT_DB_WRITE, NULL);

  g_assert_true (tpt_db_exec (db,
                              "UPDATE triggers SET blank_score = (SELECT CASE substr(min(f.frame), 1, 2) WHEN 't1' THEN 0.9"
                              " WHEN 't4' THEN 0.9 WHEN 't2' THEN 0.4 END FROM frames f WHERE f.trigger_id = triggers.id)",
                              NULL));
  tpt_sorting_choose_empty (f->page);
  settle (f);
  assert_chosen (tpt_frame_grid_get_selection (f->page->grid), 2, 1, 4);
  gtk_spin_button_set_value (f->page->score_from, 0.4);
  tpt_sorting_choose_empty (f->page);
  settle (f);
  assert_chosen (tpt_frame_grid_get_selection (f->page->grid), 3, 1, 4);
  gtk_spin_button_set_value (f->page->score_from, 0.95);
  tpt_sorting_choose_empty (f->page);
  settle (f);
  assert_chosen (tpt_frame_grid_get_selection (f->page->grid), 0, 0, 0);
  g_assert_cmpstr (f->said, ==, "No trigger of this list has a score as high as that.");
}

static gboolean
has_row (gpointer data)
{
  GtkListBox *names = GTK_LIST_BOX (data);

  return gtk_list_box_get_selected_row (names) != NULL;
}

static void
test_name (Fixture *f, gconstpointer data)
{
  g_autoptr (GListModel) windows = NULL;
  g_autoptr (GtkWindow) dialog = NULL;
  GtkWidget *names;

  choose (f, 0, 4);
  g_signal_emit_by_name (find_button (GTK_WIDGET (f->page), "Name…"), "clicked");
  windows = g_object_ref (gtk_window_get_toplevels ());
  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) at = g_list_model_get_item (windows, i);

      if (g_strcmp0 (gtk_window_get_title (at), "Name 4 triggers") == 0)
        dialog = g_object_ref (at);
    }
  g_assert_nonnull (dialog);
  names = find_inside (GTK_WIDGET (dialog), GTK_TYPE_LIST_BOX);
  g_assert_nonnull (names);
  ui_wait (has_row, names);
  gtk_editable_set_text (GTK_EDITABLE (find_inside (GTK_WIDGET (dialog), GTK_TYPE_SEARCH_ENTRY)), "fox");
  ui_settle ();
  ui_settle ();
  gtk_test_accessible_assert_property (gtk_list_box_get_selected_row (GTK_LIST_BOX (names)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Red fox, Vulpes vulpes");
  g_signal_emit_by_name (find_save (dialog), "clicked");
  settle (f);
  g_assert_cmpstr (f->said, ==, "4 triggers named Vulpes vulpes");
  g_assert_nonnull (strstr (get_text (f, 3), "Red fox"));
}

/* A batch that is gone is no trouble: all of them show. */
static void
test_batch_gone (Fixture *f, gconstpointer data)
{
  tpt_sorting_page_show_batch (f->page, "NOWHERE");
  settle (f);
  g_assert_null (f->said);
  g_assert_cmpstr (gtk_label_get_label (f->page->sentence), ==, "All triggers, by time.");
  g_assert_cmpuint (count_frames (f), ==, N_TRIGGERS);
}

/* What was complained of is taken back once a search goes well. */
static void
test_calm (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = g_error_new_literal (G_IO_ERROR, G_IO_ERROR_FAILED, "Out of order");

  tpt_sorting_complain (f->page, error);
  g_assert_cmpstr (f->said, ==, "Out of order");
  tpt_sorting_find_now (f->page);
  settle (f);
  g_assert_null (f->said);
}

static GtkWidget *
find_focus (Fixture *f)
{
  return gtk_root_get_focus (GTK_ROOT (f->window));
}

static gboolean
is_in (Fixture *f, gpointer part)
{
  return find_focus (f) != NULL && gtk_widget_is_ancestor (find_focus (f), GTK_WIDGET (part));
}

static void
press_key (GtkWidget *widget, guint keyval, GdkModifierType state)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  gboolean taken = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers) && !taken; i++)
    {
      g_autoptr (GtkEventController) at = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_KEY (at))
        g_signal_emit_by_name (at, "key-pressed", keyval, 0, state, &taken);
    }
}

/* F6 goes round the parts, past the buttons while nothing is chosen; Tab leaves the batches without choosing one. */
static void
test_keys (Fixture *f, gconstpointer data)
{
  GtkWidget *page = GTK_WIDGET (f->page);
  GtkWidget *rows = find_inside (GTK_WIDGET (f->page->batches), GTK_TYPE_LIST_BOX);

  gtk_widget_grab_focus (GTK_WIDGET (f->page->grid));
  press_key (page, GDK_KEY_F6, 0);
  g_assert_true (is_in (f, f->page->batches));
  press_key (page, GDK_KEY_F6, 0);
  g_assert_true (is_in (f, f->page->filter));
  press_key (page, GDK_KEY_F6, 0);
  g_assert_true (tpt_frame_grid_has_focus (f->page->grid));
  choose (f, 0, 1);
  press_key (page, GDK_KEY_F6, 0);
  g_assert_true (is_in (f, f->page->foot));
  press_key (page, GDK_KEY_F6, GDK_SHIFT_MASK);
  g_assert_true (tpt_frame_grid_has_focus (f->page->grid));
  press_key (page, GDK_KEY_F6, GDK_SHIFT_MASK);
  press_key (page, GDK_KEY_F6, GDK_SHIFT_MASK);
  g_assert_true (is_in (f, rows));
  press_key (rows, GDK_KEY_Tab, 0);
  g_assert_false (is_in (f, rows));
  g_assert_null (tpt_batch_list_get_chosen (f->page->batches));
  press_key (page, GDK_KEY_F6, GDK_SHIFT_MASK);
  gtk_widget_child_focus (GTK_WIDGET (f->page->batches), GTK_DIR_TAB_FORWARD);
  press_key (rows, GDK_KEY_Return, 0);
  g_assert_true (tpt_frame_grid_has_focus (f->page->grid));
}

/* (transfer none): a question that is open. */
static AdwMessageDialog *
find_question (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GObject) at = g_list_model_get_item (windows, i);

      if (ADW_IS_MESSAGE_DIALOG (at) && gtk_widget_get_visible (GTK_WIDGET (at)))
        return ADW_MESSAGE_DIALOG (at);
    }
  return NULL;
}

/* Many that have been named change once somebody has said so; few, and the undecided, at once. */
static void
test_many_decided (Fixture *f, gconstpointer data)
{
  AdwMessageDialog *question;

  f->page->ask_above = 2;
  choose (f, 0, 3);
  press (f, "Blank");
  g_assert_null (find_question ());
  choose (f, 1, 4); /* two of them are named */
  press (f, "Human");
  g_assert_null (find_question ());
  g_assert_cmpstr (f->said, ==, "4 triggers named human");
  choose (f, 0, 4);
  press (f, "Vehicle");
  question = find_question ();
  g_assert_nonnull (question);
  g_assert_cmpstr (adw_message_dialog_get_heading (question), ==, "Change what is on record for 4 triggers?");
  adw_message_dialog_response (question, "cancel");
  settle (f);
  g_assert_nonnull (strstr (get_text (f, 0), "Blank"));
  press (f, "Vehicle");
  question = find_question ();
  g_assert_nonnull (question);
  adw_message_dialog_response (question, "change");
  settle (f);
  g_assert_nonnull (strstr (get_text (f, 0), "Vehicle"));
}

static void
test_project_goes (Fixture *f, gconstpointer data)
{
  tpt_sorting_page_set_project (f->page, NULL);
  ui_settle ();
  g_assert_cmpstr (gtk_stack_get_visible_child_name (f->page->stack), ==, "nothing");
  tpt_sorting_page_set_project (f->page, f->project);
  settle (f);
  g_assert_cmpuint (count_frames (f), ==, N_TRIGGERS);
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer), gconstpointer data)
{
  g_test_add (path, Fixture, data, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  adw_init ();
  tpt_style_install ();

  g_test_add_func ("/sorting/sentence", test_sentence);
  g_test_add_func ("/sorting/short-time", test_short_time);
  g_test_add_func ("/sorting/progress", test_progress);
  g_test_add_func ("/sorting/selection", test_selection);
  g_test_add_func ("/sorting/score-order", test_score_order);
  g_test_add_func ("/sorting/batches", test_batches);
  add ("/sorting/empty", test_empty, "empty");
  add ("/sorting/list", test_list, NULL);
  add ("/sorting/change", test_change, NULL);
  add ("/sorting/types", test_types, NULL);
  add ("/sorting/beside", test_beside, NULL);
  add ("/sorting/filter", test_filter, NULL);
  add ("/sorting/query", test_query, NULL);
  add ("/sorting/naming", test_naming, NULL);
  add ("/sorting/card", test_card, NULL);
  add ("/sorting/score", test_score, NULL);
  add ("/sorting/species-search", test_species_search, NULL);
  add ("/sorting/probably-empty", test_probably_empty, NULL);
  add ("/sorting/name", test_name, NULL);
  add ("/sorting/batch-gone", test_batch_gone, NULL);
  add ("/sorting/calm", test_calm, NULL);
  add ("/sorting/keys", test_keys, NULL);
  add ("/sorting/many-decided", test_many_decided, NULL);
  add ("/sorting/project-goes", test_project_goes, NULL);
  return g_test_run ();
}
