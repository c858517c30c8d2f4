#include "config.h"

#include <adwaita.h>
#include <math.h>

#include "tpt-job-decide.h"
#include "tpt-job-frames.h"
#include "tpt-style.h"
#include "tpt-thing-menu.h"
#include "frame-helpers.h"

static const TptRange any = { TPT_NO_INSTANT, TPT_NO_INSTANT };

/* --- what a hit stands for ------------------------------------------------------- */

static void
test_hit (void)
{
  static const struct {
    const char *kind;
    const char *station, *species; /* for a hit with the keys "row" and "item" */
  } cases[] = {
    { "strip", "row", "item" },   { "map", "row", "item" },    { "hours", "item", "row" },
    { "months", "item", "row" }, { "matrix", "item", "row" }, { "phases", "item", "row" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const TptHit hit = { TPT_HIT_CELL, 1, 2, { 0, 0, 9, 9 }, (char *) "words", (char *) "row", (char *) "item", { 5, 7 }, 3, 4 };
      g_autoptr (TptThing) thing = tpt_thing_new_for_hit (cases[i].kind, &hit);
      g_autoptr (TptThing) copy = tpt_thing_copy (thing);

      g_assert_cmpstr (copy->text, ==, "words");
      g_assert_cmpstr (copy->station, ==, cases[i].station);
      g_assert_cmpstr (copy->species, ==, cases[i].species);
      g_assert_cmpint (copy->when.from, ==, 5);
      g_assert_cmpint (copy->when.to, ==, 7);
      g_assert_cmpfloat (copy->hour_from, ==, 3);
      g_assert_cmpfloat (copy->hour_to, ==, 4);
    }
}

/* --- the pictures behind it ------------------------------------------------------ */

static void
test_query (void)
{
  static const char *const a[] = { "A", NULL }, *const bear[] = { "bear", NULL };
  static const struct {
    const char *what;
    TptThing thing;
    TptFilter filter;
    const char *query;
  } cases[] = {
    { "all animals", { .when = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = NAN },
      { .range = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = -1 }, "{'types': <['animal']>}" },
    { "the filter's", { .when = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = NAN },
      { (GStrv) a, (GStrv) bear, { 1000, 2000 }, 60, 120 },
      "{'stations': <['A']>, 'species': <['bear']>, 'range': <(int64 1000, int64 2000)>, 'hours': <(60, 120)>}" },
    { "its own before the filter's",
      { .station = (char *) "B", .species = (char *) "deer", .when = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = 5, .hour_to = 6 },
      { (GStrv) a, (GStrv) bear, { TPT_NO_INSTANT, 2000 }, 60, 120 },
      "{'stations': <['B']>, 'species': <['deer']>, 'range': <(int64 -9223372036854775808, int64 2000)>, 'hours': <(300, 360)>}" },
    { "the time they share", { .species = (char *) "deer", .when = { 100000, 300000 }, .hour_from = NAN },
      { .range = { 200000, 400000 }, .hour_from = -1 },
      "{'species': <['deer']>, 'range': <(int64 200000, int64 300000)>}" },
    { "a record is the minute after it", { .species = (char *) "deer", .when = { 100000, 100000 }, .hour_from = NAN },
      { .range = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = -1 },
      "{'species': <['deer']>, 'range': <(int64 100000, int64 160000)>}" },
    { "to midnight", { .species = (char *) "deer", .when = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = 23, .hour_to = 24 },
      { .range = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = -1 }, "{'species': <['deer']>, 'hours': <(1380, 0)>}" },
    { "the whole day", { .species = (char *) "deer", .when = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = 0, .hour_to = 24 },
      { .range = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = -1 }, "{'species': <['deer']>}" },
    { "no hours of the sun",
      { .species = (char *) "deer", .when = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = 5, .hour_to = 6, .hours_by_sun = TRUE },
      { .range = { TPT_NO_INSTANT, TPT_NO_INSTANT }, .hour_from = 60, .hour_to = 120, .hours_by_sun = TRUE },
      "{'species': <['deer']>}" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFrameQuery) query = tpt_thing_menu_make_query (&cases[i].thing, &cases[i].filter);
      g_autoptr (GVariant) found = g_variant_ref_sink (tpt_frame_query_to_variant (query));
      g_autoptr (GVariant) wanted = g_variant_parse (G_VARIANT_TYPE_VARDICT, cases[i].query, NULL, NULL, NULL);
      GVariantIter iter;
      const char *key;
      GVariant *value;

      g_test_message ("%s", cases[i].what);
      g_assert_cmpuint (g_variant_n_children (found), ==, g_variant_n_children (wanted));
      g_variant_iter_init (&iter, wanted);
      while (g_variant_iter_loop (&iter, "{&sv}", &key, &value))
        {
          g_autoptr (GVariant) other = g_variant_lookup_value (found, key, NULL);

          g_assert_nonnull (other);
          g_assert_cmpvariant (other, value);
        }
    }
}

/* --- the menu ---------------------------------------------------------------------- */

typedef struct {
  char *folder;
  TptProject *project;
  GtkWidget *window;
  GtkWidget *owner;
  char *said; /* the last action and what it was told */
} Fixture;

static void
said_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  Fixture *f = data;
  g_autofree char *text = g_variant_print (parameter, FALSE);

  g_free (f->said);
  f->said = g_strdup_printf ("%s %s", g_action_get_name (G_ACTION (action)), text);
}

static void
add_actions (Fixture *f)
{
  static const GActionEntry entries[] = {
    { "only-station", said_cb, "s" },    { "toggle-station", said_cb, "s" }, { "only-species", said_cb, "s" },
    { "compare-species", said_cb, "s" }, { "period", said_cb, "(xx)" },      { "hours", said_cb, "(dd)" },
  };
  static const GActionEntry window_entries[] = { { "show-pictures", said_cb, "a{sv}" } };
  g_autoptr (GSimpleActionGroup) findings = g_simple_action_group_new ();
  g_autoptr (GSimpleActionGroup) window = g_simple_action_group_new ();

  g_action_map_add_action_entries (G_ACTION_MAP (findings), entries, G_N_ELEMENTS (entries), f);
  g_action_map_add_action_entries (G_ACTION_MAP (window), window_entries, G_N_ELEMENTS (window_entries), f);
  gtk_widget_insert_action_group (f->window, "findings", G_ACTION_GROUP (findings));
  gtk_widget_insert_action_group (f->window, "win", G_ACTION_GROUP (window));
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autofree char *path = NULL;

  f->folder = g_dir_make_tmp ("thing-XXXXXX", NULL);
  path = g_build_filename (f->folder, "a.gpkg", NULL);
  f->project = ui_make_project (path);
  frames_add_species (f->project, "Meles meles", "Badger");
  frames_import (f->project, f->folder, 1);
  f->window = g_object_ref_sink (gtk_window_new ());
  f->owner = gtk_button_new_with_label ("a pane");
  add_actions (f);
  gtk_window_set_child (GTK_WINDOW (f->window), f->owner);
  gtk_window_set_default_size (GTK_WINDOW (f->window), 400, 300);
  gtk_window_present (GTK_WINDOW (f->window));
  gtk_widget_grab_focus (f->owner);
  ui_settle ();
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (f->window));
  ui_settle ();
  g_assert_finalize_object (f->window);
  g_object_unref (f->project);
  ui_remove_tree (f->folder);
  g_free (f->folder);
  g_free (f->said);
}

/* (transfer full): the buttons that show, from the first to the last. */
static char *
list_buttons (GtkWidget *root)
{
  GString *text = g_string_new (NULL);

  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      g_autofree char *inside = NULL;

      if (GTK_IS_BUTTON (at) && gtk_widget_get_visible (at))
        g_string_append_printf (text, "%s|", gtk_label_get_label (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (at)))));
      else if (!GTK_IS_BUTTON (at))
        g_string_append (text, inside = list_buttons (at));
    }
  return g_string_free (text, FALSE);
}

static GtkWidget *
find_item (GtkWidget *root, const char *label)
{
  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      gboolean is = GTK_IS_BUTTON (at) &&
                    g_str_equal (gtk_label_get_label (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (at)))), label);
      GtkWidget *found = is ? at : GTK_IS_BUTTON (at) ? NULL : find_item (at, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
is_settled (gpointer menu)
{
  return tpt_thing_menu_is_settled (menu);
}

static TptThingMenu *
pop_up (Fixture *f, const TptThing *thing, const TptFilter *filter)
{
  const GdkRectangle at = { 200, 150, 1, 1 };
  TptThingMenu *menu = tpt_thing_menu_popup (f->owner, &at, thing, f->project, filter);

  g_object_add_weak_pointer (G_OBJECT (menu), (gpointer *) &menu);
  ui_wait (is_settled, menu);
  ui_settle ();
  g_assert_nonnull (menu);
  g_object_remove_weak_pointer (G_OBJECT (menu), (gpointer *) &menu);
  return menu;
}

static void
close_menu (TptThingMenu *menu)
{
  gboolean gone = FALSE;

  g_object_weak_ref (G_OBJECT (menu), gone_cb, &gone);
  gtk_popover_popdown (GTK_POPOVER (menu));
  ui_wait (is_true, &gone);
}

static void
test_buttons (Fixture *f, gconstpointer data)
{
  static const char *const alder[] = { "ALDER", NULL }, *const both[] = { "ALDER", "BIRCH", NULL };
  static const char *const birch[] = { "BIRCH", NULL }, *const badger[] = { "Meles meles", NULL };
  static const char *const fox[] = { "Vulpes vulpes", NULL };
  const TptThing station = { .station = (char *) "ALDER", .when = any, .hour_from = NAN };
  const TptThing species = { .species = (char *) "Meles meles", .when = any, .hour_from = NAN };
  const TptThing month = { .when = { 0, 30 * TPT_DAY }, .hour_from = NAN };
  const TptThing hour = { .when = any, .hour_from = 5, .hour_to = 6 };
  const TptThing record = { .station = (char *) "ALDER", .species = (char *) "Meles meles", .when = { 0, 0 }, .hour_from = NAN };
  const struct {
    const TptThing *thing;
    TptFilter filter;
    const char *buttons;
  } cases[] = {
    { &station, { .range = any, .hour_from = -1 }, "Only this station|No pictures on record|" },
    { &station, { .stations = (GStrv) alder, .range = any, .hour_from = -1 }, "All stations again|No pictures on record|" },
    { &station, { .stations = (GStrv) birch, .range = any, .hour_from = -1 },
      "Only this station|Also this station|No pictures on record|" },
    { &station, { .stations = (GStrv) both, .range = any, .hour_from = -1 },
      "Only this station|Without this station|No pictures on record|" },
    { &species, { .range = any, .hour_from = -1 }, "Only this species|No pictures on record|" },
    { &species, { .species = (GStrv) badger, .range = any, .hour_from = -1 }, "No pictures on record|" },
    { &species, { .species = (GStrv) fox, .range = any, .hour_from = -1 },
      "Only this species|Compare with this species|No pictures on record|" },
    { &month, { .range = any, .hour_from = -1 }, "Only this time|No pictures on record|" },
    { &month, { .range = { 0, 30 * TPT_DAY }, .hour_from = -1 }, "No pictures on record|" },
    { &hour, { .range = any, .hour_from = -1 }, "Only these hours|No pictures on record|" },
    { &hour, { .range = any, .hour_from = 300, .hour_to = 360 }, "No pictures on record|" },
    { &hour, { .range = any, .hour_from = 300, .hour_to = 360, .hours_by_sun = TRUE }, "Only these hours|No pictures on record|" },
    { &record, { .range = any, .hour_from = -1 }, "Only this station|Only this species|No pictures on record|" },
  };

  frames_add_species (f->project, "Vulpes vulpes", "Red fox");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptThingMenu *menu = pop_up (f, cases[i].thing, &cases[i].filter);
      g_autofree char *buttons = list_buttons (GTK_WIDGET (menu));

      g_test_message ("%" G_GSIZE_FORMAT, i);
      g_assert_cmpstr (buttons, ==, cases[i].buttons);
      g_assert_false (gtk_widget_get_sensitive (find_item (GTK_WIDGET (menu), "No pictures on record")));
      close_menu (menu);
    }
}

static void
name_first (Fixture *f, guint n)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobFrames) frames = tpt_job_frames_new (query);
  g_autoptr (GArray) refs = NULL;
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (TptJobDecide) decide = NULL;
  TptDecision decision = { .type = "animal", .species = "Meles meles", .certainty = NAN, .by = "Mira" };
  GError *error = NULL;

  tpt_project_run (f->project, TPT_JOB (frames), NULL, &error);
  g_assert_no_error (error);
  refs = tpt_job_frames_steal_refs (frames);
  for (guint i = 0; i < n; i++)
    g_array_append_val (ids, g_array_index (refs, TptFrameRef, i).trigger_id);
  decide = tpt_job_decide_new ((gint64 *) (gpointer) ids->data, n, &decision);
  tpt_project_run (f->project, TPT_JOB (decide), NULL, &error);
  g_assert_no_error (error);
}

/* The pictures are counted, one of each trigger as Sorting shows them, and led to. */
static void
test_pictures (Fixture *f, gconstpointer data)
{
  const TptThing thing = { .station = (char *) "ALDER", .when = any, .hour_from = 5, .hour_to = 6, .hours_by_sun = TRUE };
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  TptThing plain = thing;
  TptThingMenu *menu;
  gboolean gone = FALSE;

  name_first (f, 4);
  menu = pop_up (f, &thing, filter);
  g_assert_nonnull (find_item (GTK_WIDGET (menu), "Show 4 pictures, at any hour"));
  close_menu (menu);

  plain.hour_from = plain.hour_to = NAN;
  menu = pop_up (f, &plain, filter);
  g_object_weak_ref (G_OBJECT (menu), gone_cb, &gone);
  g_signal_emit_by_name (find_item (GTK_WIDGET (menu), "Show 4 pictures"), "clicked");
  g_assert_cmpstr (f->said, ==, "show-pictures {'stations': <['ALDER']>, 'types': <['animal']>}");
  ui_wait (is_true, &gone);
}

/* The first button has the keyboard, and the pane has it again. */
static void
test_focus (Fixture *f, gconstpointer data)
{
  const TptThing thing = { .text = (char *) "Alder ford: nothing seen", .station = (char *) "ALDER", .when = any, .hour_from = NAN };
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  TptThingMenu *menu = pop_up (f, &thing, filter);
  GtkWidget *first = find_item (GTK_WIDGET (menu), "Only this station");
  gboolean gone = FALSE;

  gtk_test_accessible_assert_property (menu, GTK_ACCESSIBLE_PROPERTY_LABEL, "Alder ford: nothing seen");
  g_assert_true (gtk_root_get_focus (GTK_ROOT (f->window)) == first);
  g_object_weak_ref (G_OBJECT (menu), gone_cb, &gone);
  g_signal_emit_by_name (first, "clicked");
  g_assert_cmpstr (f->said, ==, "only-station 'ALDER'");
  ui_wait (is_true, &gone);
  g_assert_true (gtk_root_get_focus (GTK_ROOT (f->window)) == f->owner);
}

/* A pane that goes takes its menu along. */
static void
test_owner_goes (Fixture *f, gconstpointer data)
{
  const TptThing thing = { .station = (char *) "ALDER", .when = any, .hour_from = NAN };
  const GdkRectangle at = { 200, 150, 1, 1 };
  g_autoptr (TptFilter) filter = tpt_filter_new ();
  gboolean gone = FALSE;

  g_object_weak_ref (G_OBJECT (tpt_thing_menu_popup (f->owner, &at, &thing, f->project, filter)), gone_cb, &gone);
  gtk_window_set_child (GTK_WINDOW (f->window), NULL);
  ui_wait (is_true, &gone);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  adw_init ();
  tpt_style_install ();
  g_test_add_func ("/thing/hit", test_hit);
  g_test_add_func ("/thing/query", test_query);
#define ADD(name, function) g_test_add (name, Fixture, NULL, set_up, function, tear_down)
  ADD ("/thing/buttons", test_buttons);
  ADD ("/thing/pictures", test_pictures);
  ADD ("/thing/focus", test_focus);
  ADD ("/thing/owner-goes", test_owner_goes);
  return g_test_run ();
}
