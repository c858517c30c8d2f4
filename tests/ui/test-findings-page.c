#include "config.h"

#include <adwaita.h>
#include <math.h>
#include <string.h>

#include "tpt-choice-chips.h"
#include "tpt-compare-button.h"
#include "tpt-details-view.h"
#include "tpt-figure-dialog.h"
#include "tpt-figure-pane.h"
#include "tpt-figure-walk.h"
#include "tpt-findings-page.h"
#include "tpt-findings-words.h"
#include "tpt-map-pair.h"
#include "tpt-map-view.h"
#include "tpt-period-button.h"
#include "tpt-species-list.h"
#include "tpt-species-row.h"
#include "tpt-strip.h"
#include "tpt-style.h"
#include "tpt-table-view.h"
#include "ui-helpers.h"

#define UTC_DAY(days) ((TptInstant) (days) * TPT_DAY)

/* --- parts ------------------------------------------------------------- */

static void
test_period (void)
{
  static const struct {
    const char *first, *last;
    double hours; /* negative: refused; NAN: an open end */
  } cases[] = {
    { "2026-01-10", "2026-01-10", 24 },
    /* Clocks in Berlin go forward on 29 March 2026 and back on 25 October
     * (last Sundays; directive 2000/84/EC). */
    { "2026-03-29", "2026-03-29", 23 },
    { "2026-10-25", "2026-10-25", 25 },
    { "2026-01-01", "2026-12-31", 8760 },
    { "", "", NAN },
    { "2026-01-10", "", NAN },
    { "", "2026-01-10", NAN },
    { "2026-01-10", "2026-01-09", -1 },
    { "2026-02-30", "", -1 },
    { "soon", "", -1 },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      TptRange period;
      gboolean good = tpt_period_parse (cases[i].first, cases[i].last, zone, &period, &error);

      g_assert_true (good == !(cases[i].hours < 0));
      g_assert_true (good == (error == NULL));
      if (!good)
        continue;
      g_assert_true ((period.from == TPT_NO_INSTANT) == (*cases[i].first == '\0'));
      g_assert_true ((period.to == TPT_NO_INSTANT) == (*cases[i].last == '\0'));
      if (!isnan (cases[i].hours))
        g_assert_cmpint (period.to - period.from, ==, (gint64) cases[i].hours * TPT_HOUR);
    }
}

static void
test_hours_words (void)
{
  TptShare day = { .share = 0.78 }, twilight = { .share = 0.05 }, night = { .share = 0.17 };
  TptActivity lit = { .label = (char *) "Lynx", .n = 60, .peak_hour = 13.4166, .n_light = 60, .day = day, .twilight = twilight,
                      .night = night };
  TptActivity unlit = { .label = (char *) "Roe deer", .n = 40, .peak_hour = 23.9999 }; /* rounds to midnight */
  TptActivity few = { .label = (char *) "Badger", .n = 4, .peak_hour = NAN, .n_light = 4 };
  const struct {
    const TptActivity *first, *second;
    const char *words; /* NULL: nothing to go by */
  } cases[] = {
    { &lit, NULL, "Most about 13:25. By day 78 %, in twilight 5 %, at night 17 %." },
    { &unlit, NULL, "Most about 00:00." },
    { &few, NULL, NULL },
    { &lit, &unlit, "Most about 13:25 (unbroken line) and 00:00 (dashed line)." },
    { &lit, &few, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = tpt_findings_words_hours (cases[i].first, cases[i].second);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

static void
test_beside_words (void)
{
  static const struct {
    const char *first, *second;
    TptRateRatio ratio;
    double overlap, watson_p; /* NAN: none */
    const char *words;        /* NULL: nothing is known */
  } cases[] = {
    { NULL, NULL, { 2.26, 1.27, 4.16, 0.003 }, NAN, NAN,
      "Seen 2.26 times as often in the later period as in the earlier (1.27 to 4.16; p = 0.003)." },
    { NULL, NULL, { 1.26, 0.77, 2.16, 0.4 }, NAN, NAN,
      "Seen 1.26 times as often in the later period as in the earlier, but the two may be equal (0.77 to 2.16; p = 0.400)." },
    { "Lynx", "Badger", { 0.5, 0.3, 0.8, 0.0001 }, NAN, NAN,
      "Badger: seen 0.50 times as often as Lynx (0.30 to 0.80; p below 0.001)." },
    { "Lynx", "Badger", { NAN, NAN, NAN, NAN }, 0.85, 0.82, "Overlap of the hours 0.85 (0.70 to 0.90): no sign that they differ (p = 0.820)." },
    { "Lynx", "Badger", { NAN, NAN, NAN, NAN }, 0.45, 0.01, "Overlap of the hours 0.45 (0.70 to 0.90): they differ (p = 0.010)." },
    { "Lynx", "Badger", { NAN, NAN, NAN, NAN }, NAN, NAN, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptOverlap overlap = { .value = cases[i].overlap, .low = 0.7, .high = 0.9, .watson_p = cases[i].watson_p };
      g_autofree char *words = tpt_findings_words_beside (cases[i].first, cases[i].second, &cases[i].ratio, &overlap);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

static void
test_rate_words (void)
{
  static const struct {
    TptRate rate;
    const char *words;
  } cases[] = {
    { { .detections = 63, .nights = 4218, .per_100 = 1.4936, .low = 1.1477, .high = 1.9110 },
      "1.49 per 100 trap nights (1.15 to 1.91)" },
    { { .nights = 4218.2, .per_100 = NAN, .low = NAN, .high = NAN }, "in 4,218 trap nights" },
    { { .per_100 = NAN, .low = NAN, .high = NAN }, "no rate without trap nights" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = tpt_species_row_word_rate (&cases[i].rate);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* Two rows, three detections in the first, one in the second. */
static TptFigure *
make_strip (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("UTC", NULL);
  TptRange range = { UTC_DAY (20000), UTC_DAY (20100) };
  TptFigure *figure = tpt_strip_new (range, zone);

  tpt_strip_add_row (figure, "Alder ford", "ALDER", NAN);
  tpt_strip_add_row (figure, "Birch gate", "BIRCH", NAN);
  tpt_strip_add_effort (figure, 0, range);
  tpt_strip_add_effort (figure, 1, range);
  tpt_strip_add_detection (figure, 0, UTC_DAY (20020), "Roe deer", 1);
  tpt_strip_add_detection (figure, 0, UTC_DAY (20050), "Roe deer", 2);
  tpt_strip_add_detection (figure, 0, UTC_DAY (20080), "Roe deer", 1);
  tpt_strip_add_detection (figure, 1, UTC_DAY (20051), "Badger", 1);
  return figure;
}

static guint
count_steps (TptWalker *walker, TptWalk way, TptFigure *figure, guint *marks)
{
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  guint steps = 0;

  *marks = 0;
  while (steps < 50 && tpt_walker_step (walker, way, figure, 600, 120, &style))
    {
      steps++;
      *marks += walker->hit.kind == TPT_HIT_DETECTION;
    }
  return steps;
}

static void
test_walk (void)
{
  g_autoptr (TptFigure) figure = make_strip ();
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  TptWalker walker = { .hit = { .kind = TPT_HIT_NOTHING } };
  guint marks;

  tpt_walker_clear (&walker);
  g_assert_true (tpt_walker_step (&walker, TPT_WALK_RIGHT, figure, 600, 120, &style));
  g_assert_cmpint (walker.hit.row, ==, 0);

  /* Every detection of the row once, and then there is an end. */
  count_steps (&walker, TPT_WALK_RIGHT, figure, &marks);
  g_assert_cmpuint (marks, ==, 3);
  g_assert_cmpint (walker.hit.item, ==, 2);
  count_steps (&walker, TPT_WALK_LEFT, figure, &marks);
  g_assert_cmpuint (marks, ==, 2);

  g_assert_true (tpt_walker_step (&walker, TPT_WALK_DOWN, figure, 600, 120, &style));
  g_assert_cmpint (walker.hit.row, ==, 1);
  g_assert_cmpstr (walker.hit.key, ==, "BIRCH");
  g_assert_true (tpt_walker_step (&walker, TPT_WALK_UP, figure, 600, 120, &style));
  g_assert_cmpint (walker.hit.row, ==, 0);
  tpt_walker_clear (&walker);
}

typedef struct {
  guint n;
  TptRange range;
  char *key;
} Heard;

static void
brushed_cb (TptFigureView *view, gint64 from, gint64 to, gpointer data)
{
  Heard *heard = data;

  heard->n++;
  heard->range = (TptRange) { from, to };
}

static void
picked_cb (TptFigureView *view, const TptHit *hit, gboolean add, gpointer data)
{
  Heard *heard = data;

  g_free (heard->key);
  heard->key = g_strdup (hit->key);
}

static void
press (GtkWidget *widget, const char *key)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  gboolean pressed = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      for (guint j = 0; GTK_IS_SHORTCUT_CONTROLLER (controller) && j < g_list_model_get_n_items (G_LIST_MODEL (controller)); j++)
        {
          g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (G_LIST_MODEL (controller), j);
          g_autofree char *trigger = gtk_shortcut_trigger_to_string (gtk_shortcut_get_trigger (shortcut));

          if (g_strcmp0 (trigger, key) == 0)
            pressed = gtk_shortcut_action_activate (gtk_shortcut_get_action (shortcut), 0, widget,
                                                    gtk_shortcut_get_arguments (shortcut));
        }
    }
  g_assert_true (pressed);
}

static void
test_figure_view (void)
{
  GtkWidget *window = gtk_window_new ();
  GtkWidget *widget = tpt_figure_view_new ();
  TptFigureView *view = TPT_FIGURE_VIEW (widget);
  g_autoptr (TptFigure) figure = make_strip ();
  g_autofree char *words = tpt_figure_describe (figure);
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  Heard heard = { 0 };
  double from, to;

  gtk_window_set_default_size (GTK_WINDOW (window), 700, 200);
  gtk_window_set_child (GTK_WINDOW (window), widget);
  tpt_figure_view_set_figure (view, figure);
  g_signal_connect (view, "brushed", G_CALLBACK (brushed_cb), &heard);
  g_signal_connect (view, "picked", G_CALLBACK (picked_cb), &heard);
  gtk_window_present (GTK_WINDOW (window));
  ui_settle ();
  gtk_test_accessible_assert_property (view, GTK_ACCESSIBLE_PROPERTY_LABEL, words);

  /* A drag from right to left means the same stretch. */
  from = tpt_figure_position_of (figure, UTC_DAY (20030), gtk_widget_get_width (widget), gtk_widget_get_height (widget), &style);
  to = tpt_figure_position_of (figure, UTC_DAY (20060), gtk_widget_get_width (widget), gtk_widget_get_height (widget), &style);
  tpt_figure_view_drag (view, to, from, TRUE);
  g_assert_cmpuint (heard.n, ==, 0);
  tpt_figure_view_set_brushable (view, TRUE);
  tpt_figure_view_drag (view, to, from, FALSE);
  g_assert_cmpuint (heard.n, ==, 0);
  tpt_figure_view_drag (view, to, from, TRUE);
  g_assert_cmpuint (heard.n, ==, 1);
  g_assert_cmpint (ABS (heard.range.from - UTC_DAY (20030)), <, TPT_MINUTE);
  g_assert_cmpint (ABS (heard.range.to - UTC_DAY (20060)), <, TPT_MINUTE);

  press (widget, "Right");
  g_assert_nonnull (tpt_figure_view_get_reading (view));
  gtk_test_accessible_assert_property (view, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, tpt_figure_view_get_reading (view));
  press (widget, "Down");
  press (widget, "Return");
  g_assert_cmpstr (heard.key, ==, "BIRCH");

  tpt_figure_view_set_figure (view, NULL);
  g_assert_null (tpt_figure_view_get_reading (view));
  gtk_test_accessible_assert_property (view, GTK_ACCESSIBLE_PROPERTY_LABEL, "");
  g_free (heard.key);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_table (void)
{
  GtkWidget *window = gtk_window_new ();
  GtkWidget *pane = g_object_new (TPT_TYPE_FIGURE_PANE, "title", "Stations through time", NULL);
  g_autoptr (TptFigure) figure = make_strip ();
  g_autoptr (TptFigureTable) table = tpt_figure_table (figure);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  gtk_window_set_child (GTK_WINDOW (window), pane);
  gtk_window_present (GTK_WINDOW (window));
  tpt_figure_pane_set_figure (TPT_FIGURE_PANE (pane), figure);
  tpt_figure_pane_set_table_shown (TPT_FIGURE_PANE (pane), TRUE);
  ui_settle ();

  text = tpt_figure_pane_copy_table (TPT_FIGURE_PANE (pane));
  lines = g_strsplit (text, "\n", -1);
  g_assert_cmpuint (g_strv_length (lines), ==, tpt_figure_table_get_n_rows (table) + 2); /* header, and after the last */
  g_assert_true (g_str_has_prefix (lines[0], tpt_figure_table_get_column (table, 0)));
  g_assert_nonnull (strstr (text, "Badger"));
  g_assert_nonnull (ui_find (pane, GTK_TYPE_COLUMN_VIEW));
  gtk_window_destroy (GTK_WINDOW (window));
}

/* --- the page ---------------------------------------------------------- */

typedef struct {
  char *folder;
  TptProject *project;
  GtkWidget *window;
  TptFindingsPage *page;
} Fixture;

static gboolean
is_settled (gpointer page)
{
  return tpt_findings_page_is_settled (page);
}

static void
settle (Fixture *fixture)
{
  ui_settle ();
  ui_wait (is_settled, fixture->page);
  ui_settle ();
}

static void
observe (TptProject *project, const char *code, const char *start, const char *species, const char *count)
{
  UI_SAVE (project, "Name an animal", TPT_TABLE_OBSERVATIONS, "observation", code, "deployment", "ALDER-1", "start", start,
           "type", "animal", "scientific_name", species, "count", count);
}

/* Roe deer three times, twice within half an hour; a lynx once. */
static void
add_observations (TptProject *project)
{
  UI_SAVE (project, "Bring in", TPT_TABLE_DEPLOYMENTS, "deployment", "ALDER-1", "station", "ALDER", "start",
           "2026-03-01T10:00", "end", "2026-04-01T09:00", "frames_per_trigger", "3", "frame_mb", "4");
  UI_SAVE (project, "Add species", TPT_TABLE_SPECIES, "scientific_name", "Capreolus capreolus");
  UI_SAVE (project, "Add species", TPT_TABLE_SPECIES, "scientific_name", "Lynx lynx", "sensitivity", "high");
  UI_SAVE (project, "Add species", TPT_TABLE_SPECIES, "scientific_name", "Meles meles");
  observe (project, "O-1", "2026-03-05T21:00", "Capreolus capreolus", "2");
  observe (project, "O-2", "2026-03-05T21:10", "Capreolus capreolus", "1");
  observe (project, "O-3", "2026-03-20T05:00", "Capreolus capreolus", "1");
  observe (project, "O-4", "2026-03-21T02:00", "Lynx lynx", "1");
}

static void
set_up (Fixture *fixture, gconstpointer with_observations)
{
  g_autofree char *path = NULL;

  fixture->folder = g_dir_make_tmp ("findings-XXXXXX", NULL);
  path = g_build_filename (fixture->folder, "willow.gpkg", NULL);
  fixture->project = ui_make_project (path);
  if (GPOINTER_TO_INT (with_observations))
    add_observations (fixture->project);
  /* What the saves announce is not what the page is to react to. */
  ui_settle ();

  fixture->window = gtk_window_new ();
  fixture->page = TPT_FINDINGS_PAGE (tpt_findings_page_new ());
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 1200, 760);
  gtk_window_set_child (GTK_WINDOW (fixture->window), GTK_WIDGET (fixture->page));
  gtk_window_present (GTK_WINDOW (fixture->window));
  ui_settle ();
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  ui_settle ();
  g_object_unref (fixture->project);
  g_free (fixture->folder);
}

static void
open_project (Fixture *fixture)
{
  tpt_findings_page_set_project (fixture->page, fixture->project);
  settle (fixture);
}

static GtkWidget *
find (Fixture *fixture, GType type)
{
  return ui_find (GTK_WIDGET (fixture->page), type);
}

/* The sentence says it. */
static gboolean
says (GtkWidget *widget, const char *part)
{
  if (GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), part) != NULL)
    return TRUE;
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    if (says (at, part))
      return TRUE;
  return FALSE;
}

typedef struct {
  GtkWidget *widget;
  const char *part;
} Saying;

static gboolean
is_said (gpointer data)
{
  Saying *saying = data;

  return says (saying->widget, saying->part);
}

/* Words that slide into sight are there some frames later. */
static void
wait_for_words (Fixture *fixture, const char *part)
{
  ui_wait (is_said, &(Saying){ GTK_WIDGET (fixture->page), part });
}

/* The pane of a title. */
static TptFigurePane *
find_pane_in (GtkWidget *widget, const char *title)
{
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      g_autofree char *its = NULL;
      TptFigurePane *found;

      if (TPT_IS_FIGURE_PANE (at))
        g_object_get (at, "title", &its, NULL);
      found = g_strcmp0 (its, title) == 0 ? TPT_FIGURE_PANE (at) : find_pane_in (at, title);
      if (found != NULL)
        return found;
    }
  return NULL;
}

static TptFigurePane *
find_pane (Fixture *fixture, const char *title)
{
  TptFigurePane *pane = find_pane_in (GTK_WIDGET (fixture->page), title);

  g_assert_nonnull (pane);
  return pane;
}

static TptFigureView *
find_view (Fixture *fixture, const char *title)
{
  return tpt_figure_pane_get_view (find_pane (fixture, title));
}

static TptFindingsChoice *
get_choice (Fixture *fixture)
{
  return tpt_findings_page_get_choice (fixture->page);
}

/* (nullable): the button that shows or, told by its tooltip, means @text. */
static GtkWidget *
find_button (GtkWidget *widget, const char *text)
{
  const char *tooltip = gtk_widget_get_tooltip_text (widget);
  GtkWidget *child = GTK_IS_BUTTON (widget) ? gtk_button_get_child (GTK_BUTTON (widget)) : NULL;
  const char *label = GTK_IS_LABEL (child) ? gtk_label_get_text (GTK_LABEL (child)) : NULL;

  if (GTK_IS_BUTTON (widget) && gtk_widget_get_mapped (widget) &&
      (g_strcmp0 (tooltip, text) == 0 || g_strcmp0 (label, text) == 0))
    return widget;
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = find_button (at, text);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
click (Fixture *fixture, const char *text)
{
  GtkWidget *button = find_button (fixture->window, text);

  g_test_message ("%s", text);
  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  settle (fixture);
}

static void
set_stations (Fixture *fixture, const char *first, const char *second)
{
  const char *const codes[] = { first, second, NULL };

  tpt_findings_choice_set_stations (get_choice (fixture), codes, FALSE);
  settle (fixture);
}

static void
choose_species (Fixture *fixture, guint row)
{
  TptSpeciesList *list = TPT_SPECIES_LIST (find (fixture, TPT_TYPE_SPECIES_LIST));

  gtk_selection_model_select_item (tpt_species_list_get_model (list), row, TRUE);
  settle (fixture);
}

static void
test_nothing_open (Fixture *fixture, gconstpointer data)
{
  g_assert_true (says (GTK_WIDGET (fixture->page), "No project is open"));
  open_project (fixture);
  g_assert_true (says (GTK_WIDGET (fixture->page), "No observations yet"));
  g_assert_true (says (GTK_WIDGET (fixture->page), "Take in a card"));

  /* Somebody names the first animal. */
  add_observations (fixture->project);
  settle (fixture);
  settle (fixture);
  g_assert_true (says (GTK_WIDGET (fixture->page), "3 detections"));
  tpt_findings_page_set_project (fixture->page, NULL);
  g_assert_true (says (GTK_WIDGET (fixture->page), "No project is open"));
}

static void
test_species (Fixture *fixture, gconstpointer data)
{
  g_autoptr (TptFilter) filter = NULL;
  GtkWidget *list;

  open_project (fixture);
  list = find (fixture, TPT_TYPE_SPECIES_LIST);
  g_assert_nonnull (list);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (tpt_species_list_get_model (TPT_SPECIES_LIST (list)))), ==, 4);
  g_assert_true (says (list, "All species"));
  g_assert_true (says (list, "sensitive"));
  g_assert_true (says (GTK_WIDGET (fixture->page), "All species"));
  gtk_test_accessible_assert_property (find (fixture, TPT_TYPE_MAP_VIEW), GTK_ACCESSIBLE_PROPERTY_LABEL, "Map with 1 station");

  /* Most detections first: roe deer, with its two records of one evening as one. */
  choose_species (fixture, 1);
  g_assert_true (says (GTK_WIDGET (fixture->page), "2 detections in 31 trap nights"));
  filter = tpt_findings_page_get_filter (fixture->page);
  g_assert_cmpstr (filter->species[0], ==, "Capreolus capreolus");
  g_assert_null (filter->species[1]);

  tpt_findings_page_show_everything (fixture->page);
  settle (fixture);
  g_assert_true (says (GTK_WIDGET (fixture->page), "3 detections"));
  g_assert_null (tpt_species_list_get_chosen (TPT_SPECIES_LIST (list)));
}

static void
test_row_is_told (Fixture *fixture, gconstpointer data)
{
  GtkWidget *list;

  open_project (fixture);
  list = find (fixture, TPT_TYPE_SPECIES_LIST);
  gtk_test_accessible_assert_property (ui_find (list, TPT_TYPE_SPECIES_ROW), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "All species, 3 detections, in 31 trap nights");
}

static void
test_nothing_seen (Fixture *fixture, gconstpointer data)
{
  open_project (fixture);
  choose_species (fixture, 3); /* the badger, never seen */
  wait_for_words (fixture, "though cameras worked");
  g_assert_true (gtk_widget_get_sensitive (find_button (GTK_WIDGET (fixture->page), "Show everything")));

  tpt_findings_page_show_everything (fixture->page);
  settle (fixture);
  g_signal_emit_by_name (find (fixture, TPT_TYPE_PERIOD_BUTTON), "period-set", UTC_DAY (10000), UTC_DAY (10100));
  settle (fixture);
  wait_for_words (fixture, "No camera worked in this period.");
}

static void
test_brush (Fixture *fixture, gconstpointer data)
{
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptFilter) after = NULL;
  TptFigure *strip;
  GtkWidget *view;
  double width;

  open_project (fixture);
  view = GTK_WIDGET (find_view (fixture, "Stations through time"));
  strip = tpt_figure_view_get_figure (TPT_FIGURE_VIEW (view));
  width = gtk_widget_get_width (view);

  /* The second half of the strip has one roe deer and the lynx. */
  tpt_figure_view_drag (TPT_FIGURE_VIEW (view), width * 0.55, width * 0.95, TRUE);
  settle (fixture);
  filter = tpt_findings_page_get_filter (fixture->page);
  g_assert_cmpint (filter->range.from, >, UTC_DAY (20514)); /* 2026-03-02 */
  g_assert_cmpint (filter->range.to, >, filter->range.from);
  g_assert_true (says (GTK_WIDGET (fixture->page), "2 detections in"));
  g_assert_false (says (GTK_WIDGET (fixture->page), "Period: all the time"));
  /* The strip goes on showing the whole period. */
  g_assert_true (tpt_figure_view_get_figure (TPT_FIGURE_VIEW (view)) == strip);

  /* Another species has another strip, and the brush stays. */
  choose_species (fixture, 2);
  g_assert_true (tpt_figure_view_get_figure (TPT_FIGURE_VIEW (view)) != strip);
  after = tpt_findings_page_get_filter (fixture->page);
  g_assert_cmpint (after->range.from, ==, filter->range.from);
  g_assert_true (says (GTK_WIDGET (fixture->page), "1 detection in"));

  tpt_findings_page_show_everything (fixture->page);
  g_assert_true (says (GTK_WIDGET (fixture->page), "Period: all the time"));
}

/* Somewhere in the label of the first row. */
static double
find_row_y (TptFigureView *view)
{
  int width = gtk_widget_get_width (GTK_WIDGET (view)), height = gtk_widget_get_height (GTK_WIDGET (view));
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

  for (int y = 0; y < height; y++)
    {
      g_auto (TptHit) hit = TPT_HIT_INIT;

      if (tpt_figure_hit (tpt_figure_view_get_figure (view), 20, y, width, height, &style, &hit) && hit.row == 0)
        return y + 2;
    }
  g_assert_not_reached ();
}

/* A click on a station's row points it out on the map and opens the menu of ways to go on. */
static void
test_linked_station (Fixture *fixture, gconstpointer data)
{
  GtkWidget *map;
  TptFigureView *view;

  open_project (fixture);
  map = find (fixture, TPT_TYPE_MAP_VIEW);
  view = find_view (fixture, "Stations through time");
  tpt_figure_view_click (view, 20, find_row_y (view), FALSE);
  settle (fixture);
  g_assert_cmpstr (tpt_map_view_get_selected (TPT_MAP_VIEW (map)), ==, "ALDER");
  click (fixture, "Only this station");
  g_assert_cmpstr (tpt_findings_choice_get_stations (get_choice (fixture))[0], ==, "ALDER");
  g_assert_true (says (GTK_WIDGET (fixture->page), "at one station"));
}

static void
test_hours (Fixture *fixture, gconstpointer data)
{
  g_autoptr (TptFilter) filter = NULL;
  GtkWidget *view;
  double width;

  open_project (fixture);
  view = GTK_WIDGET (find_view (fixture, "Hours of the day"));
  width = gtk_widget_get_width (view);
  tpt_figure_view_drag (TPT_FIGURE_VIEW (view), width * 0.7, width * 0.98, TRUE);
  settle (fixture);
  filter = tpt_findings_page_get_filter (fixture->page);
  g_assert_cmpint (filter->hour_from, >, 12 * 60);
  g_assert_false (filter->hours_by_sun);
  /* Of the four records only those of the evening, which are one detection. */
  g_assert_true (says (GTK_WIDGET (fixture->page), "1 detection in"));

  g_signal_emit_by_name (view, "brush-cleared");
  settle (fixture);
  g_assert_true (says (GTK_WIDGET (fixture->page), "any hour. 3 detections"));
}

static void
test_months (Fixture *fixture, gconstpointer data)
{
  GtkWidget *view;
  TptFigure *figure;
  double width;

  open_project (fixture);
  view = GTK_WIDGET (find_view (fixture, "Months"));
  figure = tpt_figure_view_get_figure (TPT_FIGURE_VIEW (view));
  width = gtk_widget_get_width (view);
  tpt_figure_view_drag (TPT_FIGURE_VIEW (view), width * 0.2, width * 0.7, TRUE);
  settle (fixture);
  g_assert_cmpuint (tpt_findings_choice_get_parts (get_choice (fixture)), ==, TPT_PART_PERIOD);
  /* The months go on showing all the time, and the strip the same stretch. */
  g_assert_true (tpt_figure_view_get_figure (TPT_FIGURE_VIEW (view)) == figure);
}

static void
test_map_chooses (Fixture *fixture, gconstpointer data)
{
  const char *const codes[] = { "BIRCH", NULL };
  GtkWidget *map;

  open_project (fixture);
  map = find (fixture, TPT_TYPE_MAP_VIEW);
  g_signal_emit_by_name (map, "stations-chosen", codes, FALSE);
  settle (fixture);
  g_assert_cmpstr (tpt_findings_choice_get_stations (get_choice (fixture))[0], ==, "BIRCH");
  g_assert_true (says (GTK_WIDGET (fixture->page), "no station worked"));
  /* The map still shows the station that is not chosen. */
  gtk_test_accessible_assert_property (map, GTK_ACCESSIBLE_PROPERTY_LABEL, "Map with 1 station");
  g_signal_emit_by_name (map, "stations-chosen", codes, TRUE);
  settle (fixture);
  g_assert_null (tpt_findings_choice_get_stations (get_choice (fixture)));
}

static void
test_chips (Fixture *fixture, gconstpointer data)
{
  static const struct {
    const char *chip;
    guint left; /* parts */
  } steps[] = {
    { "Leave out: Lynx lynx", TPT_PART_STATIONS | TPT_PART_PERIOD | TPT_PART_HOURS },
    { "Leave out: 2 stations", TPT_PART_PERIOD | TPT_PART_HOURS },
    { "Leave out: March 2026", TPT_PART_HOURS },
    { "Leave out: 22:00 to 06:00 by the sun", TPT_PART_NONE },
  };
  TptZone *zone = tpt_project_get_zone (fixture->project);
  TptFindingsChoice *choice = get_choice (fixture);

  open_project (fixture);
  g_assert_null (find (fixture, TPT_TYPE_CHOICE_CHIPS));
  set_stations (fixture, "ALDER", "BIRCH");
  tpt_findings_choice_set_species (choice, "Lynx lynx");
  tpt_findings_choice_set_hours (choice, 22, 6, TRUE);
  tpt_findings_choice_set_period (choice, (TptRange) { tpt_instant_parse ("2026-03-01T00:00", zone, NULL),
                                                       tpt_instant_parse ("2026-04-01T00:00", zone, NULL) });
  settle (fixture);
  gtk_test_accessible_assert_property (find (fixture, TPT_TYPE_CHOICE_CHIPS), GTK_ACCESSIBLE_PROPERTY_LABEL, "What is chosen");
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      GtkWidget *chip = find_button (GTK_WIDGET (fixture->page), steps[i].chip);

      g_assert_nonnull (chip);
      gtk_test_accessible_assert_property (chip, GTK_ACCESSIBLE_PROPERTY_LABEL, steps[i].chip);
      click (fixture, steps[i].chip);
      g_assert_cmpuint (tpt_findings_choice_get_parts (choice), ==, steps[i].left);
    }
  g_assert_null (find (fixture, TPT_TYPE_CHOICE_CHIPS));

  /* And all of them again, one by one. */
  for (gsize i = G_N_ELEMENTS (steps); i-- > 0;)
    {
      gtk_widget_activate_action (GTK_WIDGET (fixture->page), "findings.back", NULL);
      settle (fixture);
      g_assert_nonnull (find_button (GTK_WIDGET (fixture->page), steps[i].chip));
    }
}

static void
test_two_species (Fixture *fixture, gconstpointer data)
{
  GtkWidget *list, *map, *pair;

  open_project (fixture);
  choose_species (fixture, 1);
  list = find (fixture, TPT_TYPE_SPECIES_LIST);
  map = find (fixture, TPT_TYPE_MAP_VIEW);
  g_signal_emit_by_name (list, "beside", "Lynx lynx");
  settle (fixture);
  settle (fixture);
  g_assert_true (says (GTK_WIDGET (fixture->page), "Capreolus capreolus, at"));
  g_assert_true (says (GTK_WIDGET (fixture->page), "Lynx lynx, at"));
  g_assert_true (says (GTK_WIDGET (fixture->page), "compared with Lynx lynx"));
  /* One lynx for two roe deer in the same nights. */
  g_assert_true (says (GTK_WIDGET (fixture->page), "Lynx lynx: seen 0.50 times as often as Capreolus capreolus, but the two may be equal ("));
  pair = gtk_widget_get_ancestor (map, TPT_TYPE_MAP_PAIR);
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (tpt_map_pair_get_map (TPT_MAP_PAIR (pair), 1))));
  g_assert_true (says (pair, "Lynx lynx"));

  click (fixture, "Leave out: compared with Lynx lynx");
  g_assert_false (gtk_widget_get_mapped (GTK_WIDGET (tpt_map_pair_get_map (TPT_MAP_PAIR (pair), 1))));
  g_assert_false (says (GTK_WIDGET (fixture->page), "Lynx lynx, at"));
  g_assert_false (says (GTK_WIDGET (fixture->page), "times as often"));
}

static void
test_two_periods (Fixture *fixture, gconstpointer data)
{
  TptFindingsChoice *choice = get_choice (fixture);
  TptZone *zone = tpt_project_get_zone (fixture->project);
  TptRange march = { tpt_instant_parse ("2026-03-01T00:00", zone, NULL), tpt_instant_parse ("2026-04-01T00:00", zone, NULL) };
  TptRange narrow = { march.from + 5 * TPT_DAY, march.from + 10 * TPT_DAY };
  GtkWidget *compare;

  open_project (fixture);
  tpt_findings_choice_set_period (choice, march);
  settle (fixture);
  compare = find (fixture, TPT_TYPE_COMPARE_BUTTON);
  gtk_menu_button_popup (GTK_MENU_BUTTON (ui_find (compare, GTK_TYPE_MENU_BUTTON)));
  settle (fixture);
  g_assert_true (says (fixture->window, "March 2026 beside March 2025"));
  click (fixture, "The same months a year before");
  g_assert_cmpint (tpt_findings_choice_get_other_period (choice).from, ==,
                   tpt_instant_parse ("2025-03-01T00:00", zone, NULL));
  g_assert_true (says (GTK_WIDGET (fixture->page), "1 March 2026 to 31 March 2026"));
  /* Nothing stood there a year before. */
  g_assert_true (says (GTK_WIDGET (fixture->page), "no station worked in this period"));

  /* A stretch of one is a stretch of both. */
  g_signal_emit_by_name (find_view (fixture, "Stations through time"), "brushed", narrow.from, narrow.to);
  settle (fixture);
  g_assert_cmpint (tpt_findings_choice_get_other_period (choice).from, ==,
                   tpt_findings_shift_years (narrow, -1, zone).from);
}

/* What was asked for last is what shows, however fast. */
static void
test_stale (Fixture *fixture, gconstpointer data)
{
  TptFindingsChoice *choice = get_choice (fixture);
  const char *const names[] = { "Capreolus capreolus", "Lynx lynx", "Meles meles", "Lynx lynx", "Capreolus capreolus", "Lynx lynx" };

  open_project (fixture);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      tpt_findings_choice_set_species (choice, names[i]);
      g_assert_false (tpt_findings_page_is_settled (fixture->page));
      for (guint j = 0; j < 3; j++)
        g_main_context_iteration (NULL, FALSE);
    }
  settle (fixture);
  g_assert_true (says (GTK_WIDGET (fixture->page), "Lynx lynx, at"));
  g_assert_true (says (GTK_WIDGET (fixture->page), "1 detection in"));
}

static void
test_panes_are_told (Fixture *fixture, gconstpointer data)
{
  static const char *const titles[] = { "Where", "Hours of the day", "Stations through time", "Months" };

  open_project (fixture);
  for (gsize i = 0; i < G_N_ELEMENTS (titles); i++)
    {
      TptFigurePane *pane = find_pane (fixture, titles[i]);
      g_autofree char *table = g_strdup_printf ("Table of “%s”", titles[i]);
      g_autofree char *copied = NULL;
      GtkWidget *toggle = find_button (GTK_WIDGET (pane), "Table");

      gtk_test_accessible_assert_property (pane, GTK_ACCESSIBLE_PROPERTY_LABEL, titles[i]);
      gtk_test_accessible_assert_property (toggle, GTK_ACCESSIBLE_PROPERTY_LABEL, table);
      tpt_figure_pane_set_table_shown (pane, TRUE);
      copied = tpt_figure_pane_copy_table (pane);
      g_assert_nonnull (strchr (copied, '\n'));
      g_assert_nonnull (ui_find (GTK_WIDGET (pane), GTK_TYPE_COLUMN_VIEW));
      tpt_figure_pane_set_table_shown (pane, FALSE);
    }
  gtk_test_accessible_assert_property (ui_find (GTK_WIDGET (find_pane (fixture, "Where")), GTK_TYPE_DROP_DOWN),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL, "What the discs on the map show");
  gtk_test_accessible_assert_property (ui_find (GTK_WIDGET (find_pane (fixture, "Hours of the day")), GTK_TYPE_DROP_DOWN),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL, "Which hours");
}

static void
test_larger (Fixture *fixture, gconstpointer data)
{
  static const char *const titles[] = { "Where", "Hours of the day", "Stations through time", "Months", "Species by station" };

  open_project (fixture);
  for (gsize i = 0; i < G_N_ELEMENTS (titles); i++)
    {
      tpt_figure_pane_set_larger (find_pane (fixture, titles[i]), TRUE);
      ui_settle ();
      for (gsize j = 0; j < G_N_ELEMENTS (titles); j++)
        g_assert_cmpint (gtk_widget_get_mapped (GTK_WIDGET (find_pane (fixture, titles[j]))), ==, i == j);
      g_assert_true (gtk_widget_get_mapped (find (fixture, TPT_TYPE_SPECIES_LIST)));
    }
  tpt_figure_pane_set_larger (find_pane (fixture, titles[G_N_ELEMENTS (titles) - 1]), FALSE);
  ui_settle ();
  for (gsize i = 0; i < G_N_ELEMENTS (titles); i++)
    g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (find_pane (fixture, titles[i]))));
}

static void
test_details (Fixture *fixture, gconstpointer data)
{
  TptFigurePane *pane;
  GtkWidget *kind;

  open_project (fixture);
  pane = find_pane (fixture, "Species by station");
  kind = ui_find (GTK_WIDGET (pane), GTK_TYPE_DROP_DOWN);
  gtk_test_accessible_assert_property (kind, GTK_ACCESSIBLE_PROPERTY_LABEL, "What this pane shows");
  for (guint i = 0; i < 3; i++)
    {
      gtk_drop_down_set_selected (GTK_DROP_DOWN (kind), i);
      settle (fixture);
      g_assert_cmpint (ui_find (GTK_WIDGET (pane), TPT_TYPE_DETAILS_VIEW) != NULL, ==, i == 2);
    }
  g_assert_true (says (GTK_WIDGET (pane), "Choose a species"));
  g_assert_true (says (GTK_WIDGET (pane), "civil twilight"));
  choose_species (fixture, 1);
  g_assert_false (says (GTK_WIDGET (pane), "Choose a species"));
  g_assert_true (says (GTK_WIDGET (pane), "occasions of 14 days"));
  g_assert_true (says (GTK_WIDGET (pane), "The moon"));
  {
    GtkWidget *details = ui_find (GTK_WIDGET (pane), TPT_TYPE_DETAILS_VIEW);
    g_autofree char *table = NULL;
    guint rows = 0;

    gtk_expander_set_expanded (GTK_EXPANDER (ui_find (details, GTK_TYPE_EXPANDER)), TRUE);
    table = tpt_table_view_copy (TPT_TABLE_VIEW (ui_find (details, TPT_TYPE_TABLE_VIEW)));
    for (const char *c = table; *c != '\0'; c++)
      rows += *c == '\n';
    g_assert_cmpuint (rows, ==, 1 + TPT_MOON_PARTS); /* with the header */
  }
}

static void
test_order (Fixture *fixture, gconstpointer data)
{
  /* Of four badgers, two roe deer, one lynx; the names begin with M, C and L. */
  static const struct {
    TptSpeciesOrder order;
    const char *first, *last;
  } cases[] = {
    { TPT_SPECIES_BY_DETECTIONS, "Meles meles", "Lynx lynx" },
    { TPT_SPECIES_BY_TITLE, "Capreolus capreolus", "Meles meles" },
    { TPT_SPECIES_BY_RATE, "Meles meles", "Lynx lynx" },
    { TPT_SPECIES_BY_STATIONS, "Capreolus capreolus", "Meles meles" }, /* one each, so by name */
  };
  TptSpeciesList *list;

  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *code = g_strdup_printf ("O-M%u", i);
      g_autofree char *start = g_strdup_printf ("2026-03-1%uT22:00", i);

      observe (fixture->project, code, start, "Meles meles", "1");
    }
  ui_settle ();
  open_project (fixture);
  choose_species (fixture, 3);
  list = TPT_SPECIES_LIST (find (fixture, TPT_TYPE_SPECIES_LIST));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GListModel *rows = G_LIST_MODEL (tpt_species_list_get_model (list));
      g_autoptr (TptSpeciesItem) first = NULL, last = NULL;

      tpt_species_list_set_order (list, cases[i].order);
      settle (fixture);
      first = g_list_model_get_item (rows, 1);
      last = g_list_model_get_item (rows, 3);
      g_assert_cmpstr (tpt_species_item_get_title (first), ==, cases[i].first);
      g_assert_cmpstr (tpt_species_item_get_title (last), ==, cases[i].last);
      g_assert_cmpstr (tpt_species_list_get_chosen (list), ==, "Lynx lynx");
    }
}

static void
test_templates (void)
{
  const GType types[] = { TPT_TYPE_CHOICE_CHIPS, TPT_TYPE_COMPARE_BUTTON, TPT_TYPE_DETAILS_VIEW, TPT_TYPE_FIGURE_PANE,
                          TPT_TYPE_MAP_PAIR,     TPT_TYPE_PERIOD_BUTTON,  TPT_TYPE_SPECIES_LIST, TPT_TYPE_FINDINGS_PAGE };

  ui_check_templates (types, G_N_ELEMENTS (types));
}

/* A page that goes while it is counting leaves nothing behind. */
static void
test_gone_while_counting (Fixture *fixture, gconstpointer data)
{
  TptFindingsPage *page = fixture->page;

  tpt_findings_page_set_project (page, fixture->project);
  g_object_add_weak_pointer (G_OBJECT (page), (gpointer *) &page);
  gtk_window_set_child (GTK_WINDOW (fixture->window), NULL);
  ui_settle ();
  ui_settle ();
  g_assert_null (page);
}

/* --- the figure dialog ------------------------------------------------- */

static gboolean
has_figure (gpointer dialog)
{
  return tpt_figure_dialog_get_figure (dialog) != NULL;
}

static gboolean
has_fault (gpointer dialog)
{
  return *tpt_figure_dialog_get_fault (dialog) != '\0';
}

static gboolean
is_gone (gpointer dialog)
{
  return *(gpointer *) dialog == NULL;
}

static TptFigureDialog *
open_dialog (Fixture *fixture, const char *kind)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  TptFigureDialog *dialog = tpt_figure_dialog_present (GTK_WINDOW (fixture->window), fixture->project, kind, filter);

  ui_wait (has_figure, dialog);
  return dialog;
}

static char *
read_csv (Fixture *fixture, const char *name)
{
  g_autofree char *path = g_build_filename (fixture->folder, name, NULL);
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

static void
write_and_wait (TptFigureDialog *dialog, Fixture *fixture, const char *name)
{
  g_autofree char *path = g_build_filename (fixture->folder, name, NULL);

  g_object_add_weak_pointer (G_OBJECT (dialog), (gpointer *) &dialog);
  tpt_figure_dialog_write_to (dialog, path);
  ui_wait (is_gone, &dialog);
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
}

/* Places are secrets unless somebody says otherwise. */
static void
test_exact (Fixture *fixture, gconstpointer data)
{
  TptFigureDialog *dialog = open_dialog (fixture, "map");
  g_autofree char *discreet = NULL;
  g_autofree char *exact = NULL;

  write_and_wait (dialog, fixture, "discreet.svg");
  discreet = read_csv (fixture, "discreet.csv");
  g_assert_null (strstr (discreet, "47.51234"));
  g_assert_null (strstr (discreet, "Alder"));

  dialog = open_dialog (fixture, "map");
  tpt_figure_dialog_set_exact (dialog, TRUE);
  g_assert_null (tpt_figure_dialog_get_figure (dialog));
  ui_wait (has_figure, dialog);
  g_assert_true (says (GTK_WIDGET (dialog), "Exact places can give rare animals and equipment away."));
  write_and_wait (dialog, fixture, "exact.svg");
  exact = read_csv (fixture, "exact.csv");
  g_assert_nonnull (strstr (exact, "47.51234"));
}

static void
test_bad_ending (Fixture *fixture, gconstpointer data)
{
  TptFigureDialog *dialog = open_dialog (fixture, "strip");
  g_autofree char *path = g_build_filename (fixture->folder, "strip.tiff", NULL);
  g_autofree char *csv = g_build_filename (fixture->folder, "strip.csv", NULL);

  tpt_figure_dialog_write_to (dialog, path);
  ui_wait (has_fault, dialog);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_assert_false (g_file_test (csv, G_FILE_TEST_EXISTS));
  gtk_test_accessible_assert_property (ui_find (GTK_WIDGET (dialog), GTK_TYPE_SWITCH), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Exact places");
  /* It can be tried again. */
  write_and_wait (dialog, fixture, "strip.png");
}

/* Lives have no places to keep to themselves; they have groups. */
static void
test_lives (Fixture *fixture, gconstpointer data)
{
  static const struct {
    const char *kind;
    gboolean groups, places;
  } cases[] = {
    { "lives", TRUE, FALSE }, { "map", FALSE, TRUE },    { "due", FALSE, TRUE },          { "hours", FALSE, TRUE },
    { "months", FALSE, TRUE }, { "matrix", FALSE, TRUE }, { "accumulation", FALSE, TRUE },
  };
  g_autofree char *csv = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptFigureDialog *dialog = open_dialog (fixture, cases[i].kind);

      g_assert_cmpstr (tpt_figure_get_kind (tpt_figure_dialog_get_figure (dialog)), ==, cases[i].kind);
      g_assert_cmpint (says (GTK_WIDGET (dialog), "Units together by"), ==, cases[i].groups);
      g_assert_cmpint (ui_find (GTK_WIDGET (dialog), GTK_TYPE_SWITCH) != NULL, ==, cases[i].places);
      write_and_wait (dialog, fixture, "figure.svg");
    }
  write_and_wait (open_dialog (fixture, "lives"), fixture, "lives.svg");
  csv = read_csv (fixture, "lives.csv");
  g_assert_true (g_str_has_prefix (csv, "group,days,at_risk,failures,censored,survival,low,high,reason\r\n"));
}

#define ADD(path, func, with) g_test_add ("/ui/findings/" path, Fixture, GINT_TO_POINTER (with), set_up, func, tear_down)

int
main (int argc, char **argv)
{
  /* with-display.sh gives a home of our own; isolated data directories would be new ones for each case, where the
   * toolkit finds no loader for its icons. */
  g_test_init (&argc, &argv, NULL);
  adw_init ();
  tpt_style_install ();

  g_test_add_func ("/ui/findings/templates", test_templates);
  g_test_add_func ("/ui/findings/period", test_period);
  g_test_add_func ("/ui/findings/rate-words", test_rate_words);
  g_test_add_func ("/ui/findings/hours-words", test_hours_words);
  g_test_add_func ("/ui/findings/beside-words", test_beside_words);
  g_test_add_func ("/ui/findings/walk", test_walk);
  g_test_add_func ("/ui/findings/figure-view", test_figure_view);
  g_test_add_func ("/ui/findings/table", test_table);
  ADD ("nothing-open", test_nothing_open, FALSE);
  ADD ("species", test_species, TRUE);
  ADD ("row-is-told", test_row_is_told, TRUE);
  ADD ("nothing-seen", test_nothing_seen, TRUE);
  ADD ("brush", test_brush, TRUE);
  ADD ("linked-station", test_linked_station, TRUE);
  ADD ("hours", test_hours, TRUE);
  ADD ("months", test_months, TRUE);
  ADD ("map-chooses", test_map_chooses, TRUE);
  ADD ("chips", test_chips, TRUE);
  ADD ("two-species", test_two_species, TRUE);
  ADD ("two-periods", test_two_periods, TRUE);
  ADD ("stale", test_stale, TRUE);
  ADD ("panes-are-told", test_panes_are_told, TRUE);
  ADD ("larger", test_larger, TRUE);
  ADD ("details", test_details, TRUE);
  ADD ("order", test_order, TRUE);
  ADD ("gone-while-counting", test_gone_while_counting, TRUE);
  ADD ("exact", test_exact, TRUE);
  ADD ("bad-ending", test_bad_ending, TRUE);
  ADD ("lives", test_lives, TRUE);
  return g_test_run ();
}
