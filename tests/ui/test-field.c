#include "config.h"

#include <adwaita.h>
#include <math.h>

#include "tpt-blank-line.h"
#include "tpt-date-entry.h"
#include "tpt-dated-row.h"
#include "tpt-due-list.h"
#include "tpt-due-row.h"
#include "tpt-field-page.h"
#include "tpt-field-words.h"
#include "tpt-format.h"
#include "tpt-gauge.h"
#include "tpt-job-due.h"
#include "tpt-job-lookup.h"
#include "tpt-rig-row.h"
#include "tpt-round-cost.h"
#include "tpt-round-line.h"
#include "tpt-station-page.h"
#include "tpt-style.h"
#include "tpt-symbol-view.h"
#include "tpt-words.h"
#include "ui-helpers.h"

/* --- words ------------------------------------------------------------- */

static void
test_position (void)
{
  static const struct {
    const char *latitude, *longitude, *uncertainty;
    gboolean exact;
    const char *words;
  } cases[] = {
    { "2.41182", "113.02742", "15", FALSE, "About 2.4° N, 113.0° E" },
    { "2.41182", "113.02742", "15", TRUE, "2.41182° N, 113.02742° E, within 15 m" },
    { "-33.95", "-18.44", NULL, FALSE, "About 34.0° S, 18.4° W" },
    { "-33.95", "-18.44", NULL, TRUE, "33.95000° S, 18.44000° W" },
    { NULL, NULL, NULL, TRUE, "No position on record" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) station = tpt_record_new (TPT_TABLE_STATIONS);
      g_autofree char *words = NULL;

      g_assert_true (tpt_record_set_from_string (station, "latitude", cases[i].latitude, NULL, NULL));
      g_assert_true (tpt_record_set_from_string (station, "longitude", cases[i].longitude, NULL, NULL));
      g_assert_true (tpt_record_set_from_string (station, "uncertainty_m", cases[i].uncertainty, NULL, NULL));
      words = tpt_field_words_position (station, cases[i].exact);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

static void
test_visit_words (void)
{
  static const struct {
    const char *found, *frames, *left, *words;
  } cases[] = {
    { "card-full", "2104", NULL, "Card full, 2,104 frames on the card" },
    { "working", "1", "working", "Working, 1 frame on the card, left working" },
    { NULL, NULL, NULL, "Visit" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) visit = tpt_record_new (TPT_TABLE_VISITS);
      g_autofree char *words = NULL;

      g_assert_true (tpt_record_set_from_string (visit, "found", cases[i].found, NULL, NULL));
      g_assert_true (tpt_record_set_from_string (visit, "frames_on_card", cases[i].frames, NULL, NULL));
      g_assert_true (tpt_record_set_from_string (visit, "left", cases[i].left, NULL, NULL));
      words = tpt_field_words_visit (visit);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* What waiting costs; the arithmetic is by hand. */
static void
test_round_cost (void)
{
  static const struct {
    const char *planned, *other;
    double lost, other_lost; /* NAN: not known yet */
    const char *words, *spoken;
  } cases[] = {
    { "2026-06-14", "2026-06-21", 9.4, 17.2, "Going on 14 June: 9.4 nights lost; on 21 June: 17.2, which is 7.8 more",
      "17.2 nights lost, 7.8 more than on 14 June" },
    { "2026-06-21", "2026-06-14", 17.2, 9.4, "Going on 21 June: 17.2 nights lost; on 14 June: 9.4, which is 7.8 fewer",
      "9.4 nights lost, 7.8 fewer than on 21 June" },
    { "2026-06-14", "2026-06-21", 9.4, NAN, "Going on 14 June: 9.4 nights lost", NULL },
    { "2026-06-14", "2026-06-14", 9.4, 9.4, "Going on 14 June: 9.4 nights lost", "9.4 nights lost" },
    { "2026-06-14", "2026-06-15", 0.01, 0.04, "Going on 14 June: no nights lost; on 15 June: no more and no less", "no nights lost" },
    { "2026-12-30", "2027-01-06", 0, 1, "Going on 30 December: no nights lost; on 6 January 2027: 1.0, which is 1.0 more",
      "1.0 nights lost, 1.0 more than on 30 December" },
    /* the difference of what is shown: 9.4 and 9.6, not 9.44 and 9.56 */
    { "2026-06-14", "2026-06-15", 9.44, 9.56, "Going on 14 June: 9.4 nights lost; on 15 June: 9.6, which is 0.2 more",
      "9.6 nights lost, 0.2 more than on 14 June" },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  TptInstant on = tpt_instant_parse ("2026-06-12T17:00", zone, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptRoundCost planned = { tpt_instant_parse (cases[i].planned, zone, NULL), cases[i].lost };
      TptRoundCost other = { tpt_instant_parse (cases[i].other, zone, NULL), cases[i].other_lost };
      g_autofree char *words = tpt_round_cost_compare (&planned, &other, zone, on);
      g_autofree char *spoken = cases[i].spoken != NULL ? tpt_round_cost_speak (&planned, &other, zone, on) : NULL;

      g_assert_cmpstr (words, ==, cases[i].words);
      g_assert_cmpstr (spoken, ==, cases[i].spoken);
    }
}

/* --- the scale ---------------------------------------------------------- */

static TptDueScale *
make_scale (TptZone *zone)
{
  TptDueScale *scale = tpt_due_scale_new ();
  TptRange range = { tpt_instant_parse ("2026-03-01", zone, NULL), tpt_instant_parse ("2026-05-01", zone, NULL) };

  tpt_due_scale_set_time (scale, range, zone, tpt_instant_parse ("2026-03-20T15:00", zone, NULL));
  tpt_due_scale_set_round (scale, tpt_instant_parse ("2026-03-28", zone, NULL));
  return scale;
}

/* A round is a whole day after the moment of asking. Clocks go forward in
 * Berlin on 29 March 2026 (IANA tz database). */
static void
test_snap (void)
{
  static const struct {
    const char *at, *day;
  } cases[] = {
    { "2026-04-02T11:00", "2026-04-02" },
    { "2026-04-02T13:00", "2026-04-03" },
    { "2026-03-29T13:30", "2026-03-30" }, /* in summer time */
    { "2026-03-28T20:00", "2026-03-29" }, /* the night of the change */
    { "2026-03-01T00:00", "2026-03-21" }, /* in the past */
    { "2026-03-20T18:00", "2026-03-21" }, /* today */
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);
  g_autoptr (TptDueScale) scale = make_scale (zone);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpint (tpt_due_scale_snap (scale, tpt_instant_parse (cases[i].at, zone, NULL)), ==,
                     tpt_instant_parse (cases[i].day, zone, NULL));
}

static void
test_shift (void)
{
  static const struct {
    int days;
    const char *day;
  } cases[] = {
    { 1, "2026-03-29" }, { 2, "2026-03-30" }, { 7, "2026-04-04" }, { -7, "2026-03-21" }, { -70, "2026-03-21" },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);
  g_autoptr (TptDueScale) scale = make_scale (zone);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpint (tpt_due_scale_shift (scale, cases[i].days), ==, tpt_instant_parse (cases[i].day, zone, NULL));
}

/* Names keep to the left of the axis, whatever the width. */
static void
test_place (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("UTC", NULL);
  g_autoptr (TptDueScale) scale = make_scale (zone);

  for (int width = 320; width <= 900; width += 20)
    {
      TptTimeAxis axis = tpt_due_scale_place (scale, width);

      g_assert_cmpfloat (axis.left, >=, 150);
      g_assert_cmpfloat (axis.right, >, axis.left + 100);
      g_assert_cmpfloat (axis.right, <, width);
    }
}

/* --- small widgets ------------------------------------------------------ */

static void
count_day_cb (TptDateEntry *entry, gint64 at, gint64 *last)
{
  *last = at;
}

static void
test_date_entry (void)
{
  static const struct {
    const char *text;
    const char *day; /* NULL: refused */
  } cases[] = {
    { "2026-06-14", "2026-06-14" }, { " 2026-06-15 ", "2026-06-15" }, { "2026-02-30", NULL }, { "tomorrow", NULL }, { "", NULL },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  TptDateEntry *entry = g_object_ref_sink (g_object_new (TPT_TYPE_DATE_ENTRY, NULL));
  GtkWidget *text = tpt_date_entry_get_entry (entry);
  gint64 last = 0;

  g_signal_connect (entry, "day-set", G_CALLBACK (count_day_cb), &last);
  tpt_date_entry_set_day (entry, tpt_instant_parse ("2026-06-01", zone, NULL), zone);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (text)), ==, "2026-06-01");
  g_assert_cmpint (last, ==, 0);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      last = 0;
      gtk_editable_set_text (GTK_EDITABLE (text), cases[i].text);
      g_signal_emit_by_name (text, "activate");
      g_assert_cmpint (last, ==, cases[i].day != NULL ? tpt_instant_parse (cases[i].day, zone, NULL) : 0);
      g_assert_true (gtk_widget_has_css_class (text, "error") == (cases[i].day == NULL));
    }
  g_object_unref (entry);
}

/* What is typed is tried as soon as it is a day; leaving without Enter takes
 * it back, and nothing else may write over it meanwhile. */
static void
test_date_tried (void)
{
  static const struct {
    const char *text;
    const char *tried; /* NULL: nothing new; "": given up */
    gboolean kept;     /* what is typed stands against the day set from outside */
  } cases[] = {
    { "2026-06-1", NULL, FALSE }, { "2026-06-14", "2026-06-14", TRUE }, { "2026-06-", NULL, TRUE }, { "2026-06-15", "2026-06-15", TRUE },
    { "2026-06-09", "", FALSE }, /* back where it was */
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  TptDateEntry *entry = g_object_ref_sink (g_object_new (TPT_TYPE_DATE_ENTRY, NULL));
  GtkWidget *text = tpt_date_entry_get_entry (entry);
  gint64 tried = 0, set = 0;

  g_signal_connect (entry, "day-tried", G_CALLBACK (count_day_cb), &tried);
  g_signal_connect (entry, "day-set", G_CALLBACK (count_day_cb), &set);
  tpt_date_entry_set_day (entry, tpt_instant_parse ("2026-06-09T08:00", zone, NULL), zone);
  g_assert_cmpint (tried, ==, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      tried = 0;
      gtk_editable_set_text (GTK_EDITABLE (text), cases[i].text);
      g_assert_cmpint (tried, ==, cases[i].tried == NULL ? 0 : tpt_instant_parse (cases[i].tried, zone, NULL));
      tpt_date_entry_set_day (entry, tpt_instant_parse (i % 2 == 0 ? "2026-06-10" : "2026-06-09", zone, NULL), zone);
      g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (text)), ==, cases[i].kept ? cases[i].text : "2026-06-10");
      if (!cases[i].kept)
        tpt_date_entry_set_day (entry, tpt_instant_parse ("2026-06-09T08:00", zone, NULL), zone);
    }
  g_assert_cmpint (set, ==, 0);
  gtk_editable_set_text (GTK_EDITABLE (text), "2026-06-20");
  g_signal_emit_by_name (text, "activate");
  g_assert_cmpint (set, ==, tpt_instant_parse ("2026-06-20", zone, NULL));
  g_object_unref (entry);
}

static void
test_symbol_view (void)
{
  static const struct {
    TptSymbol symbol;
    const char *says;
  } cases[] = {
    { { 0.12, 0.64, TPT_STATE_NOW }, "12" },
    { { 0.9, NAN, TPT_STATE_FINE }, "90" },
  };
  TptSymbolView *view = TPT_SYMBOL_VIEW (g_object_ref_sink (tpt_symbol_view_new ()));
  int width;

  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_ROLE_IMG);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = tpt_symbol_describe (&cases[i].symbol);

      g_assert_nonnull (strstr (words, cases[i].says));
      tpt_symbol_view_set_symbol (view, cases[i].symbol);
      gtk_test_accessible_assert_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, words);
    }
  tpt_symbol_view_set_pixel_size (view, 42);
  gtk_widget_measure (GTK_WIDGET (view), GTK_ORIENTATION_HORIZONTAL, -1, NULL, &width, NULL, NULL);
  g_assert_cmpint (width, ==, 42);
  g_object_unref (view);
}

static void
test_round_line_accessible (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);
  g_autoptr (TptDueScale) scale = make_scale (zone);
  TptRoundLine *line = g_object_ref_sink (g_object_new (TPT_TYPE_ROUND_LINE, NULL));

  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_ROLE_SLIDER);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_PROPERTY_LABEL, "Next round");
  tpt_round_line_set_scale (line, scale);
  tpt_due_scale_set_round (scale, tpt_instant_parse ("2026-04-05", zone, NULL));
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, "5 April 2026");
  tpt_round_line_set_cost (line, "17.2 nights lost");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, "5 April 2026, 17.2 nights lost");
  g_assert_false (tpt_round_line_is_moving (line));
  g_object_unref (line);
}

static void
test_templates (void)
{
  const GType types[] = {
    TPT_TYPE_BLANK_LINE, TPT_TYPE_DATE_ENTRY, TPT_TYPE_DATED_ROW, TPT_TYPE_DUE_LIST, TPT_TYPE_DUE_ROW, TPT_TYPE_FIELD_PAGE, TPT_TYPE_GAUGE,
    TPT_TYPE_RIG_ROW, TPT_TYPE_ROUND_LINE, TPT_TYPE_STATION_PAGE,
  };

  ui_check_templates (types, G_N_ELEMENTS (types));
}

/* --- the page ------------------------------------------------------------ */

typedef struct {
  char *folder;
  TptProject *project;
  GtkWidget *window;
  TptFieldPage *page;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autofree char *path = NULL;

  f->folder = g_dir_make_tmp ("field-XXXXXX", NULL);
  path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = ui_make_project (path);
  f->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (f->window), 1280, 800);
  f->page = TPT_FIELD_PAGE (tpt_field_page_new ());
  gtk_window_set_child (GTK_WINDOW (f->window), GTK_WIDGET (f->page));
  gtk_window_present (GTK_WINDOW (f->window));
  tpt_field_page_set_project (f->page, f->project);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (f->window));
  ui_settle ();
  g_remove (tpt_project_get_path (f->project));
  g_object_unref (f->project);
  g_rmdir (f->folder);
  g_free (f->folder);
}

/* Whether the station page shows the label, and the list is there. */
typedef struct {
  Fixture *f;
  const char *text;
} Wanted;

static gboolean
shows (gpointer data)
{
  Wanted *wanted = data;
  GtkWidget *page = ui_find (wanted->f->window, TPT_TYPE_STATION_PAGE);

  return page != NULL && ui_find_label (page, wanted->text) != NULL;
}

static void
wait_for (Fixture *f, const char *text)
{
  ui_wait (shows, &(Wanted){ f, text });
}

static void
test_page_shows (Fixture *f, gconstpointer data)
{
  GtkWidget *page;

  wait_for (f, "Rig since 1 March");
  g_assert_cmpstr (tpt_field_page_get_chosen (f->page), ==, "ALDER");
  page = ui_find (f->window, TPT_TYPE_STATION_PAGE);
  g_assert_nonnull (ui_find_label (page, "Alder ford"));
  g_assert_nonnull (ui_find_label (page, "trail at water"));
  g_assert_nonnull (ui_find_label (page, "Camera one"));
  g_assert_nonnull (ui_find_label (page, "Working, 1,210 frames on the card"));
  g_assert_nonnull (ui_find_label (page, "Flash capacitors stay charged when off"));
  g_assert_nonnull (ui_find_label (f->window, "Birch gate"));
}

/* The log calls units what everything else calls them, and tells those of one
 * name apart. */
static void
test_page_log (Fixture *f, gconstpointer data)
{
  static const char *const lines[] = { "Camera one (K-1): 80 % left, swapped for Camera two (K-2)", "Camera two (K-2) fitted",
                                       "Camera two (K-2): Damage: insects" };

  UI_SAVE (f->project, "Add camera", TPT_TABLE_UNITS, "unit", "K-2", "kind", "camera", "label", "Camera two");
  UI_SAVE (f->project, "Fit camera", TPT_TABLE_FITTINGS, "deployment", "ALDER-1", "unit", "K-2", "from", "2026-04-01T09:00");
  UI_SAVE (f->project, "Read", TPT_TABLE_READINGS, "visit", "V-1", "unit", "K-1", "percent", "80", "action", "swapped", "replacement", "K-2");
  UI_SAVE (f->project, "Damage", TPT_TABLE_UNIT_LOG, "entry", "E-1", "unit", "K-2", "at", "2026-04-03T09:00", "what", "damage", "cause", "insects");
  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    wait_for (f, lines[i]);
}

/* Exact places are secret until somebody asks. */
static void
test_page_secret (Fixture *f, gconstpointer data)
{
  GtkWidget *page, *reveal;

  wait_for (f, "About 47.5° N, 11.3° W");
  page = ui_find (f->window, TPT_TYPE_STATION_PAGE);
  reveal = gtk_widget_get_parent (ui_find_label (page, "Show"));
  g_assert_true (GTK_IS_TOGGLE_BUTTON (reveal));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (reveal), TRUE);
  g_assert_nonnull (ui_find_label (page, "47.51234° N, 11.26789° W, within 15 m"));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (reveal), FALSE);
  g_assert_nonnull (ui_find_label (page, "About 47.5° N, 11.3° W"));
}

/* Triggers of ALDER and BIRCH: of the first 6 of 6 were blank, of the other 0 of
 * 9. Limits by Wilson 1927, J. Am. Stat. Assoc. 22:209-212; 1 / (1 + z^2 / n). */
static void
test_page_blanks (Fixture *f, gconstpointer data)
{
  const char *hint = "More false triggers than elsewhere: look at the aim, leaves, heat.";
  GtkWidget *page;

  wait_for (f, "About 47.5° N, 11.3° W");
  page = ui_find (f->window, TPT_TYPE_STATION_PAGE);
  g_assert_null (ui_find (page, TPT_TYPE_BLANK_LINE)); /* nothing is decided */
  UI_SAVE (f->project, "Set out", TPT_TABLE_DEPLOYMENTS, "deployment", "BIRCH-1", "station", "BIRCH", "start", "2026-03-01T10:00");
  for (guint i = 0; i < 15; i++)
    {
      g_autofree char *code = g_strdup_printf ("O%u", i), *at = g_strdup_printf ("2026-03-05T10:%02u", i);

      UI_SAVE (f->project, "Decide", TPT_TABLE_OBSERVATIONS, "observation", code, "deployment", i < 6 ? "ALDER-1" : "BIRCH-1",
               "start", at, "type", i < 6 ? "blank" : "human");
    }
  wait_for (f, "6 of 6 decided triggers were blank: 100 % (61–100)");
  g_assert_nonnull (ui_find_label (page, hint));
  tpt_field_page_choose (f->page, "BIRCH");
  wait_for (f, "0 of 9 decided triggers were blank: 0 % (0–30)");
  g_assert_null (ui_find_label (page, hint));
}

static gboolean
is_sensitive (Fixture *f, const char *button)
{
  GtkWidget *label = ui_find_label (ui_find (f->window, TPT_TYPE_STATION_PAGE), button);

  g_assert_nonnull (label);
  return gtk_widget_is_sensitive (gtk_widget_get_parent (label));
}

/* What can be done depends on whether a rig stands there. */
static void
test_page_actions (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *station, *sign;
    gboolean visit, set_out, bring_in;
  } cases[] = {
    { "ALDER", "Rig since 1 March", TRUE, FALSE, TRUE },
    { "BIRCH", "No rig stands here. Press “Set out” when you put one up.", TRUE, TRUE, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      wait_for (f, "Rig since 1 March");
      tpt_field_page_choose (f->page, cases[i].station);
      wait_for (f, cases[i].sign);
      g_assert_true (is_sensitive (f, "Record visit") == cases[i].visit);
      g_assert_true (is_sensitive (f, "Set out") == cases[i].set_out);
      g_assert_true (is_sensitive (f, "Bring in") == cases[i].bring_in);
      tpt_field_page_choose (f->page, "ALDER");
    }
}

/* Somebody edits while the page is open: it follows, and keeps what is chosen. */
static void
test_page_follows (Fixture *f, gconstpointer data)
{
  wait_for (f, "Rig since 1 March");
  tpt_field_page_choose (f->page, "BIRCH");
  wait_for (f, "gate");
  UI_SAVE (f->project, "Edit Birch gate", TPT_TABLE_STATIONS, "station", "BIRCH", "name", "Birch wicket");
  wait_for (f, "Birch wicket");
  g_assert_cmpstr (tpt_field_page_get_chosen (f->page), ==, "BIRCH");
}

static void
test_page_removed (Fixture *f, gconstpointer data)
{
  g_autoptr (TptJobLookup) lookup = tpt_job_lookup_new (TPT_TABLE_STATIONS, "station", "BIRCH");
  g_autoptr (TptJobEdit) job = tpt_job_edit_new ("Remove Birch gate");
  g_autoptr (TptRecord) birch = NULL;
  GError *error = NULL;

  wait_for (f, "Rig since 1 March");
  tpt_field_page_choose (f->page, "BIRCH");
  wait_for (f, "gate");
  tpt_project_run (f->project, TPT_JOB (lookup), NULL, &error);
  g_assert_no_error (error);
  birch = g_list_model_get_item (tpt_job_lookup_get_records (lookup), 0);
  tpt_job_edit_remove (job, birch);
  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  wait_for (f, "Rig since 1 March");
  g_assert_cmpstr (tpt_field_page_get_chosen (f->page), ==, "ALDER");
}

static gboolean
has_round (gpointer data)
{
  return g_strcmp0 (tpt_project_get_undo_label (data), "Plan the round on 2030-06-14") == 0;
}

/* A date that is typed becomes the project's. */
static void
test_page_round (Fixture *f, gconstpointer data)
{
  g_autoptr (TptJobDue) due = tpt_job_due_new (TPT_NO_INSTANT, TPT_NO_INSTANT);
  GtkWidget *entry;
  GError *error = NULL;

  wait_for (f, "Rig since 1 March");
  entry = tpt_date_entry_get_entry (TPT_DATE_ENTRY (ui_find (f->window, TPT_TYPE_DATE_ENTRY)));
  gtk_editable_set_text (GTK_EDITABLE (entry), "2030-06-14");
  g_signal_emit_by_name (entry, "activate");
  ui_wait (has_round, f->project);

  tpt_project_run (f->project, TPT_JOB (due), NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (tpt_job_due_get_until (due), ==,
                   tpt_instant_parse ("2030-06-14", tpt_project_get_zone (f->project), NULL));
}

/* Whether the list shows a label that holds @text. */
static gboolean
holds (GtkWidget *widget, const char *text)
{
  if (GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), text) != NULL)
    return TRUE;
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    if (holds (at, text))
      return TRUE;
  return FALSE;
}

static gboolean
list_holds (gpointer data)
{
  Wanted *wanted = data;

  return holds (ui_find (wanted->f->window, TPT_TYPE_DUE_LIST), wanted->text);
}

/* (transfer full): "; on 5 May:", so many days from now, as the list compares. */
static char *
write_day (Fixture *f, int days)
{
  TptInstant now = tpt_project_get_now (f->project, NULL);
  g_autofree char *day = tpt_words_day (now + days * TPT_DAY, tpt_project_get_zone (f->project), now);

  return g_strdup_printf ("; on %s:", day);
}

/* While a day is being typed, the list says what going then costs; leaving
 * takes it back, and nothing is written. Without a plan the round is 28 days on. */
static void
test_page_tries (Fixture *f, gconstpointer data)
{
  GtkWidget *list, *entry;
  g_autofree char *week_later = write_day (f, 35), *tried = write_day (f, 30);
  g_autofree char *iso = tpt_format_iso_day (tpt_project_get_now (f->project, NULL) + 30 * TPT_DAY, tpt_project_get_zone (f->project));

  wait_for (f, "Rig since 1 March");
  ui_wait (list_holds, &(Wanted){ f, week_later }); /* once the outlook is there */
  list = ui_find (f->window, TPT_TYPE_DUE_LIST);
  entry = tpt_date_entry_get_entry (TPT_DATE_ENTRY (ui_find (f->window, TPT_TYPE_DATE_ENTRY)));
  gtk_widget_grab_focus (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), iso);
  g_assert_true (holds (list, tried)); /* at once: no job in between */
  g_assert_false (holds (list, week_later));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, iso);
  gtk_widget_grab_focus (ui_find (list, GTK_TYPE_LIST_VIEW));
  ui_wait (list_holds, &(Wanted){ f, week_later });
  g_assert_false (holds (list, tried));
  g_assert_cmpstr (tpt_project_get_undo_label (f->project), ==, "Record visit at Alder ford");
}

static void
test_page_search (Fixture *f, gconstpointer data)
{
  GtkWidget *list, *search;

  wait_for (f, "Rig since 1 March");
  list = ui_find (f->window, TPT_TYPE_DUE_LIST);
  search = ui_find (list, GTK_TYPE_SEARCH_ENTRY);
  gtk_editable_set_text (GTK_EDITABLE (search), "GATE");
  ui_settle ();
  ui_settle ();
  g_assert_nonnull (ui_find_label (list, "Birch gate"));
  g_assert_null (ui_find_label (list, "Alder ford"));
  gtk_editable_set_text (GTK_EDITABLE (search), "nothing like it");
  ui_settle ();
  ui_settle ();
  g_assert_nonnull (ui_find_label (list, "No station fits this search."));
  g_assert_cmpstr (tpt_field_page_get_chosen (f->page), ==, "ALDER");
}

static void
note_unit_cb (GSimpleAction *action, GVariant *code, gpointer data)
{
  g_free (*(char **) data);
  *(char **) data = g_variant_dup_string (code, NULL);
}

/* A row of the rig leads to the page of its unit. */
static void
test_unit_shown (Fixture *f, gconstpointer data)
{
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();
  g_autoptr (GSimpleAction) action = g_simple_action_new ("show-unit", G_VARIANT_TYPE_STRING);
  g_autofree char *shown = NULL;
  GtkWidget *row;

  g_signal_connect (action, "activate", G_CALLBACK (note_unit_cb), &shown);
  g_action_map_add_action (G_ACTION_MAP (group), G_ACTION (action));
  gtk_widget_insert_action_group (f->window, "win", G_ACTION_GROUP (group));
  wait_for (f, "Rig since 1 March");
  row = gtk_widget_get_ancestor (ui_find_label (f->window, "Camera one"), TPT_TYPE_RIG_ROW);
  g_assert_nonnull (row);
  g_signal_emit_by_name (gtk_widget_get_ancestor (row, GTK_TYPE_LIST_BOX), "row-activated", row);
  g_assert_cmpstr (shown, ==, "K-1");
}

/* A project that goes while its jobs run takes nothing down with it. */
static void
test_page_dropped (Fixture *f, gconstpointer data)
{
  tpt_field_page_set_project (f->page, NULL);
  ui_settle ();
  g_assert_null (tpt_field_page_get_chosen (f->page));
  tpt_field_page_set_project (f->page, f->project);
  wait_for (f, "Rig since 1 March");
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer))
{
  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  /* with-display.sh isolates the user's folders; without the system's the
   * toolkit finds no loader for its icons. */
  g_test_init (&argc, &argv, NULL);
  adw_init ();
  tpt_style_install ();

  g_test_add_func ("/field/position", test_position);
  g_test_add_func ("/field/visit-words", test_visit_words);
  g_test_add_func ("/field/round-cost", test_round_cost);
  g_test_add_func ("/field/snap", test_snap);
  g_test_add_func ("/field/shift", test_shift);
  g_test_add_func ("/field/place", test_place);
  g_test_add_func ("/field/date-entry", test_date_entry);
  g_test_add_func ("/field/date-tried", test_date_tried);
  g_test_add_func ("/field/symbol-view", test_symbol_view);
  g_test_add_func ("/field/round-line", test_round_line_accessible);
  g_test_add_func ("/field/templates", test_templates);
  add ("/field/page/shows", test_page_shows);
  add ("/field/page/log", test_page_log);
  add ("/field/page/secret", test_page_secret);
  add ("/field/page/blanks", test_page_blanks);
  add ("/field/page/actions", test_page_actions);
  add ("/field/page/follows", test_page_follows);
  add ("/field/page/removed", test_page_removed);
  add ("/field/page/round", test_page_round);
  add ("/field/page/tries", test_page_tries);
  add ("/field/page/search", test_page_search);
  add ("/field/page/dropped", test_page_dropped);
  add ("/field/unit-shown", test_unit_shown);
  return g_test_run ();
}
