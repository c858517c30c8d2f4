#include "config.h"

#include <adwaita.h>
#include <math.h>

#include "tpt-certainty.h"
#include "tpt-details-form.h"
#include "tpt-error.h"
#include "tpt-frame-strip.h"
#include "tpt-frame-view.h"
#include "tpt-frame-words.h"
#include "tpt-job-decide.h"
#include "tpt-job-edit.h"
#include "tpt-job-frames.h"
#include "tpt-job-undo.h"
#include "tpt-light.h"
#include "tpt-name-pad.h"
#include "tpt-naming-private.h"
#include "tpt-near-name.h"
#include "tpt-said-list.h"
#include "tpt-settings.h"
#include "tpt-style.h"
#include "frame-helpers.h"

#define MISSING_TRIGGER 4 /* its pictures are not there */

/* --- words and numbers -------------------------------------------------------- */

static void
test_score (void)
{
  static const struct {
    double score;
    const char *words;
  } cases[] = {
    { 0.93, "probably empty: 0.93" },     { 0.8, "probably empty: 0.80" },       { 0.79, "perhaps empty: 0.79" },
    { 0.5, "perhaps empty: 0.50" },       { 0.49, "perhaps not empty: 0.49" },   { 0.2, "perhaps not empty: 0.20" },
    { 0.1, "probably not empty: 0.10" },  { 0, "probably not empty: 0.00" },     { NAN, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = tpt_frame_words_score (cases[i].score);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* A number that is none of the words is kept as it is. */
static void
test_certainty (void)
{
  static const struct {
    double number;
    const char *code;
    const char *words;
  } cases[] = {
    { 0.95, "sure", "sure" }, { 0.75, "probable", "probable" }, { 0.5, "maybe", "maybe" },
    { 0.62, NULL, "0.62" },   { 1, NULL, "1.00" },              { 0, NULL, "0.00" },
    { NAN, NULL, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = tpt_frame_words_certainty (cases[i].number);

      g_assert_cmpstr (tpt_certainty_get_code (cases[i].number), ==, cases[i].code);
      g_assert_cmpstr (words, ==, cases[i].words);
      if (cases[i].code != NULL)
        g_assert_cmpfloat (tpt_certainty_from_code (cases[i].code), ==, cases[i].number);
    }
  g_assert_true (isnan (tpt_certainty_from_code (NULL)));
}

/* The codes are those of tpt_time_source_to_string() and of imported tables, which
 * the window cannot ask. */
static void
test_clock_words (void)
{
  static const struct {
    const char *camera_time;
    const char *source;
    const char *words;
  } cases[] = {
    { "2026-03-02T23:15:00", "exif-original", "The camera’s clock showed 2 March 2026 23:15:00, as the picture says it was taken." },
    { "2026-03-02T23:15:00", "exif-digitized", "The camera’s clock showed 2 March 2026 23:15:00, as the picture says it was digitised." },
    { "2026-03-02T23:15:00", "xmp", "The camera’s clock showed 2 March 2026 23:15:00, from the picture’s XMP note." },
    { "2026-03-02T23:15:00", "maker-note", "The camera’s clock showed 2 March 2026 23:15:00, from the camera maker’s note in the picture." },
    { "2026-03-02T23:15:00", "file", "The camera’s clock showed 2 March 2026 23:15:00, from the date of the file." },
    { "2026-03-02T23:15:00", "table", "The camera’s clock showed 2 March 2026 23:15:00, from the table it came in with." },
    { "2026-03-02T23:15:00", NULL, "The camera’s clock showed 2 March 2026 23:15:00." },
    { "yesterday", NULL, "The camera’s clock showed yesterday." },
    { NULL, "none", "The camera wrote no time." },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const TptFrameRow row = { .camera_time = (char *) cases[i].camera_time, .time_source = (char *) cases[i].source };
      g_autofree char *words = tpt_frame_words_clock (&row);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* Black and white stay; nothing gets darker; a stronger lift lifts more. */
static void
test_lift (void)
{
  for (int step = 0; step <= 10; step++)
    {
      g_assert_cmpuint (tpt_light_apply (step / 10.0, 0), ==, 0);
      g_assert_cmpuint (tpt_light_apply (step / 10.0, 255), ==, 255);
      for (guint value = 1; value < 256; value++)
        {
          g_assert_cmpuint (tpt_light_apply (step / 10.0, (guint8) value), >=, value);
          g_assert_cmpuint (tpt_light_apply (step / 10.0, (guint8) value), >=, tpt_light_apply (step / 10.0, (guint8) (value - 1)));
          if (step > 0)
            g_assert_cmpuint (tpt_light_apply (step / 10.0, (guint8) value), >=, tpt_light_apply ((step - 1) / 10.0, (guint8) value));
        }
    }
  for (guint value = 0; value < 256; value++)
    g_assert_cmpuint (tpt_light_apply (0, (guint8) value), ==, value);
}

/* Dark frames come out within reach of the same brightness, bright ones are left alone. */
static void
test_suggest (void)
{
  static const struct {
    double mean;
    int least, most; /* of 255, once lifted */
  } cases[] = { { 0.04, 85, 110 }, { 0.08, 85, 110 }, { 0.15, 85, 110 }, { 0.21, 85, 110 }, { 0.3, 76, 77 }, { 0.6, 153, 153 } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      int lifted = tpt_light_apply (tpt_light_suggest (cases[i].mean), (guint8) round (cases[i].mean * 255));

      g_test_message ("%g becomes %d", cases[i].mean, lifted);
      g_assert_cmpint (lifted, >=, cases[i].least);
      g_assert_cmpint (lifted, <=, cases[i].most);
    }
}

/* A pixel of a texture as red, green, blue. */
static guint32
get_pixel (GdkTexture *texture, int x, int y)
{
  int width = gdk_texture_get_width (texture);
  g_autofree guint32 *words = g_new (guint32, (gsize) width * (gsize) gdk_texture_get_height (texture));

  gdk_texture_download (texture, (guchar *) words, (gsize) width * sizeof *words);
  return words[y * width + x] & 0xffffff; /* downloads are one word a pixel, alpha on top */
}

static void
test_texture (void)
{
  const guint8 pixels[2][9] = { { 255, 0, 0, 0, 255, 0, 0, 0, 255 }, { 10, 20, 30, 64, 64, 64, 255, 255, 255 } };
  g_autoptr (GBytes) bytes = g_bytes_new (pixels, sizeof pixels);
  TptPicture picture = { .pixels = bytes, .width = 3, .height = 2, .stride = 9 };
  const cairo_rectangle_int_t part = { 1, 1, 2, 1 };
  g_autoptr (GdkTexture) all = tpt_light_make_texture (&picture, NULL, 0);
  g_autoptr (GdkTexture) some = tpt_light_make_texture (&picture, &part, 0);
  g_autoptr (GdkTexture) lifted = tpt_light_make_texture (&picture, &part, 0.5);
  guint value = tpt_light_apply (0.5, 64);

  g_assert_cmphex (get_pixel (all, 0, 0), ==, 0xff0000);
  g_assert_cmphex (get_pixel (all, 1, 0), ==, 0x00ff00);
  g_assert_cmphex (get_pixel (all, 2, 0), ==, 0x0000ff);
  g_assert_cmphex (get_pixel (all, 0, 1), ==, 0x0a141e);
  g_assert_cmpint (gdk_texture_get_width (some), ==, 2);
  g_assert_cmphex (get_pixel (some, 0, 0), ==, 0x404040);
  g_assert_cmphex (get_pixel (lifted, 0, 0), ==, value << 16 | value << 8 | value);
  g_assert_cmphex (get_pixel (lifted, 1, 0), ==, 0xffffff);
}

/* --- the view ------------------------------------------------------------------ */

typedef struct {
  char *folder;
  TptProject *project;
  TptFrameList *list;
  GtkWidget *window;
  TptNamingView *view;
  GPtrArray *complaints; /* (element-type utf8) */
  gboolean back;
} Fixture;

static void
complain_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  g_ptr_array_add (((Fixture *) data)->complaints, g_variant_dup_string (message, NULL));
}

static void
back_cb (Fixture *f)
{
  f->back = TRUE;
}

/* As the page of lists does after a change. */
static void
list_again (Fixture *f, gboolean every_frame)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  g_autoptr (TptJobFrames) job = NULL;
  GError *error = NULL;

  query->every_frame = every_frame;
  job = tpt_job_frames_new (query);
  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  tpt_frame_list_take_refs (f->list, tpt_job_frames_steal_refs (job));
  tpt_naming_view_set_undecided (f->view, tpt_job_frames_get_undecided (job));
}

static void
list_frames (Fixture *f, gboolean every_frame)
{
  f->list = tpt_frame_list_new (f->project);
  list_again (f, every_frame);
}

static gboolean
is_ready (gpointer data)
{
  Fixture *f = data;

  return f->view->rows != NULL && f->view->named && f->view->loading == NULL && tpt_decider_get_pending (f->view->decider) == 0;
}

/* What is not on screen yet cannot be decided: a key pressed meanwhile does nothing. */
static gboolean
is_shown (gpointer data)
{
  return ((Fixture *) data)->view->rows != NULL;
}

static void
set_up (Fixture *f, gconstpointer data)
{
  static const GActionEntry actions[] = { { "say", complain_cb, "s" }, { "complain", complain_cb, "s" } };
  g_autofree char *path = NULL;
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();

  f->folder = g_dir_make_tmp ("naming-XXXXXX", NULL);
  path = g_build_filename (f->folder, "a.gpkg", NULL);
  f->project = ui_make_project (path);
  f->complaints = g_ptr_array_new_with_free_func (g_free);
  frames_add_species (f->project, "Capreolus capreolus", "Roe deer");
  frames_add_species (f->project, "Meles meles", "Badger");
  frames_add_species (f->project, "Vulpes vulpes", "Red fox");
  frames_import (f->project, f->folder, MISSING_TRIGGER);

  f->window = g_object_ref_sink (gtk_window_new ());
  f->view = tpt_naming_view_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (group), actions, G_N_ELEMENTS (actions), f);
  gtk_widget_insert_action_group (f->window, "win", G_ACTION_GROUP (group));
  g_signal_connect_swapped (f->view, "back", G_CALLBACK (back_cb), f);
  gtk_window_set_child (GTK_WINDOW (f->window), GTK_WIDGET (f->view));
  gtk_window_set_default_size (GTK_WINDOW (f->window), 1280, 760);
  gtk_window_present (GTK_WINDOW (f->window));
  tpt_naming_view_set_project (f->view, f->project);
  tpt_naming_view_set_person (f->view, "Mira");
  list_frames (f, FALSE);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (f->list)), ==, N_TRIGGERS);
  tpt_naming_view_show (f->view, f->list, 0);
  gtk_widget_grab_focus (GTK_WIDGET (f->view));
  ui_wait (is_ready, f);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  tpt_settings_set_flag ("lift-dark", FALSE);
  tpt_settings_set_flag ("naming-details", FALSE);
  tpt_frame_list_stop (f->list);
  gtk_window_destroy (GTK_WINDOW (f->window));
  ui_settle ();
  g_assert_finalize_object (f->window);
  g_object_unref (f->list);
  g_object_unref (f->project);
  g_ptr_array_unref (f->complaints);
  ui_remove_tree (f->folder);
  g_free (f->folder);
}

/* --- doing and seeing -------------------------------------------------------------- */

static void
press_with (Fixture *f, guint keyval, GdkModifierType state)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (f->view));
  g_autofree GdkKeymapKey *keys = NULL;
  int n_keys = 0;
  guint digit = keyval == GDK_KEY_exclam ? GDK_KEY_1 : keyval == GDK_KEY_at ? GDK_KEY_2 : keyval;
  gboolean handled = FALSE;

  ui_wait (is_shown, f);
  gdk_display_map_keyval (gdk_display_get_default (), digit, &keys, &n_keys);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_KEY (controller) && !handled)
        g_signal_emit_by_name (controller, "key-pressed", keyval, n_keys > 0 ? keys[0].keycode : 0, state, &handled);
    }
  g_assert_true (handled);
}

static void
press (Fixture *f, guint keyval)
{
  press_with (f, keyval, 0);
}

/* (transfer full): what is on record of a trigger, by opinion: "1 Mira: Badger". */
static char *
read_said (Fixture *f, guint trigger)
{
  TptFrameRef ref = tpt_frame_list_get_ref (f->list, trigger);
  g_autoptr (TptJobFrameRows) job = tpt_job_frame_rows_new_for_trigger (ref.trigger_id);
  g_autoptr (GString) text = g_string_new (NULL);
  const TptFrameRow *row;
  GError *error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  row = tpt_job_frame_rows_get_rows (job)->pdata[0];
  for (guint i = 0; i < row->seen->len; i++)
    {
      const TptSeen *seen = row->seen->pdata[i];
      g_autofree char *what = tpt_seen_describe (seen);
      g_autofree char *certainty = isnan (seen->certainty) ? NULL : g_strdup_printf (" %.2f", seen->certainty);

      g_string_append_printf (text, "%s%d %s: %s%s", i > 0 ? " | " : "", seen->opinion, seen->by, what, certainty != NULL ? certainty : "");
    }
  return g_strdup (text->str);
}

static void
assert_said (Fixture *f, guint trigger, const char *expected)
{
  g_autofree char *said = NULL;

  ui_wait (is_ready, f);
  said = read_said (f, trigger);
  g_assert_cmpstr (said, ==, expected);
}

static void
decide_as (Fixture *f, guint trigger, const TptDecision *decision)
{
  TptFrameRef ref = tpt_frame_list_get_ref (f->list, trigger);
  g_autoptr (TptJobDecide) job = tpt_job_decide_new (&ref.trigger_id, 1, decision);
  GError *error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  ui_settle ();
  ui_wait (is_ready, f);
}

/* --- tests -------------------------------------------------------------------------- */

/* One key is one decision, and the next trigger is there at once. */
static void
test_keys (Fixture *f, gconstpointer data)
{
  static const struct {
    guint key;
    const char *said;
  } cases[] = {
    { GDK_KEY_b, "1 Mira: Blank" },     { GDK_KEY_h, "1 Mira: Human" },       { GDK_KEY_v, "1 Mira: Vehicle" },
    { GDK_KEY_u, "1 Mira: Unknown" },   { GDK_KEY_r, "1 Mira: Unknown" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, i);
      press (f, cases[i].key);
      g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, i + 1);
    }
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_said (f, i, cases[i].said);
  g_assert_nonnull (ui_find_label (f->window, "Trigger 6 of 6, 1 undecided"));
}

static void
test_digits (Fixture *f, gconstpointer data)
{
  g_autofree char *first = g_strdup (tpt_name_pad_get_name (f->view->pad, 1));

  g_assert_cmpstr (first, !=, NULL);
  g_assert_null (tpt_name_pad_get_name (f->view->pad, 4)); /* three species */
  press (f, GDK_KEY_4);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  press (f, GDK_KEY_1);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 1);
  ui_wait (is_ready, f);
  press_with (f, GDK_KEY_at, GDK_SHIFT_MASK); /* Shift and 2: two of them */
  press (f, GDK_KEY_s);                       /* sure */
  press (f, GDK_KEY_KP_2);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 2);
  ui_wait (is_ready, f);
  {
    g_autofree char *left = tpt_details_form_describe (f->view->details);

    g_assert_null (left); /* said with that one only */
  }
  {
    g_autofree char *one = read_said (f, 0), *two = read_said (f, 1);

    g_assert_true (g_str_has_prefix (one, "1 Mira: "));
    g_assert_true (g_str_has_prefix (two, "1 Mira: 2 "));
    g_assert_true (g_str_has_suffix (two, " 0.95"));
  }
}

/* Typed in part, in another language, and taken with Enter. */
static void
test_search (Fixture *f, gconstpointer data)
{
  GtkWidget *search = find_labelled (f->window, GTK_TYPE_SEARCH_ENTRY, "Search names");

  press (f, GDK_KEY_slash);
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (f->window)), search));
  gtk_editable_set_text (GTK_EDITABLE (search), "mel");
  ui_settle ();
  g_assert_cmpstr (tpt_name_pad_get_name (f->view->pad, 1), ==, "Meles meles");
  g_assert_null (tpt_name_pad_get_name (f->view->pad, 2));
  g_signal_emit_by_name (search, "activate");
  assert_said (f, 0, "1 Mira: Badger");
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 1);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (search)), ==, "");
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (f->window)) == GTK_WIDGET (f->view->view));
}

static GtkWidget *
find_question (void)
{
  GListModel *tops = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (tops); i++)
    {
      g_autoptr (GtkWidget) top = g_list_model_get_item (tops, i);

      if (ADW_IS_MESSAGE_DIALOG (top))
        return top;
    }
  return NULL;
}

/* (transfer none): the question about @typed. */
static GtkWidget *
ask_about (Fixture *f, const char *typed)
{
  GtkWidget *search = find_labelled (f->window, GTK_TYPE_SEARCH_ENTRY, "Search names");

  gtk_widget_grab_focus (search);
  gtk_editable_set_text (GTK_EDITABLE (search), typed);
  ui_settle ();
  g_signal_emit_by_name (search, "activate");
  g_assert_nonnull (find_question ());
  return find_question ();
}

/* A species that is not on the list is asked for, added and said; the next keys
 * are for the next picture. */
static void
test_new_species (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *typed;
    const char *heading;
    const char *scientific; /* proposed */
    const char *common;
    const char *filled_in;
    const char *said;
  } cases[] = {
    { "Sus  scrofa", "Add “Sus scrofa” to the species list?", "Sus scrofa", "", "Sus scrofa", "1 Mira: Sus scrofa" },
    { "pine marten", "Add “pine marten” to the species list?", "", "pine marten", "Martes martes", "1 Mira: pine marten" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      AdwMessageDialog *question = ADW_MESSAGE_DIALOG (ask_about (f, cases[i].typed));
      GtkEditable *scientific = GTK_EDITABLE (find_labelled (GTK_WIDGET (question), GTK_TYPE_ENTRY, "Scientific name"));
      GtkEditable *common = GTK_EDITABLE (find_labelled (GTK_WIDGET (question), GTK_TYPE_ENTRY, "Common name"));
      gboolean known = cases[i].scientific[0] != '\0';
      g_autoptr (TptRecord) record = NULL;

      g_assert_cmpstr (adw_message_dialog_get_heading (question), ==, cases[i].heading);
      g_assert_cmpstr (gtk_editable_get_text (scientific), ==, cases[i].scientific);
      g_assert_cmpstr (gtk_editable_get_text (common), ==, cases[i].common);
      g_assert_true (adw_message_dialog_get_response_enabled (question, "add") == known);
      g_assert_cmpstr (adw_message_dialog_get_default_response (question), ==, known ? "add" : NULL);
      gtk_editable_set_text (scientific, cases[i].filled_in);
      g_assert_cmpstr (adw_message_dialog_get_default_response (question), ==, "add");
      g_signal_emit_by_name (find_button (GTK_WIDGET (question), "_Add and name"), "clicked");
      ui_settle ();
      g_assert_null (find_question ());
      assert_said (f, i, cases[i].said);
      record = get_only (f->project, TPT_TABLE_SPECIES, "scientific_name", cases[i].filled_in);
      g_assert_nonnull (record);
      g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, i + 1);
      g_assert_true (gtk_window_get_focus (GTK_WINDOW (f->window)) == GTK_WIDGET (f->view->view));
      g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_labelled (f->window, GTK_TYPE_SEARCH_ENTRY, "Search names"))), ==,
                       "");
    }
}

/* With and also on the trigger stays; the search does not. */
static void
test_new_besides (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_a);
  g_signal_emit_by_name (find_button (ask_about (f, "Sus scrofa"), "_Add and name"), "clicked");
  ui_settle ();
  assert_said (f, 0, "1 Mira: Sus scrofa");
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (f->window)) == GTK_WIDGET (f->view->view));
}

/* A slip of the fingers adds nothing to the list. */
static void
test_meant (Fixture *f, gconstpointer data)
{
  GtkWidget *question = ask_about (f, "bagder");

  g_signal_emit_by_name (find_labelled (question, GTK_TYPE_BUTTON, "Did you mean Badger? Use it"), "clicked");
  ui_settle ();
  g_assert_null (find_question ());
  assert_said (f, 0, "1 Mira: Badger");
}

static void
test_near (void)
{
  static const struct {
    const char *text;
    const char *species;
  } cases[] = {
    { "badger", "Meles meles" }, { "Badgre", "Meles meles" }, { "bager", "Meles meles" }, { "Meles melis", "Meles meles" },
    { "Melles mele", "Meles meles" }, { "reed fox", "Vulpes vulpes" }, { "rid fax", "Vulpes vulpes" }, { "fax", NULL },
    { "bade", NULL }, { "", NULL }, { "wild boar", NULL },
  };
  TptName badger = { .species = (char *) "Meles meles", .names = (char *) "meles meles\nbadger\ndachs" };
  TptName fox = { .species = (char *) "Vulpes vulpes", .names = (char *) "vulpes vulpes\nred fox" };
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  g_ptr_array_add (names, &badger);
  g_ptr_array_add (names, &fox);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const TptName *near = tpt_near_name_find (names, cases[i].text);

      g_test_message ("%s", cases[i].text);
      g_assert_cmpstr (near != NULL ? near->species : NULL, ==, cases[i].species);
    }
  g_assert_null (tpt_near_name_find (NULL, "badger"));
}

static void
test_scientific (void)
{
  static const struct {
    const char *text;
    gboolean scientific;
  } cases[] = {
    { "Sus scrofa", TRUE }, { "Polygonia c-album", TRUE }, { "sus scrofa", FALSE }, { "Wild Boar", FALSE }, { "Sus", FALSE },
    { "Sus scrofa scrofa", FALSE }, { "Рысь обыкновенная", FALSE }, { "S scrofa", FALSE }, { "", FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].text);
      g_assert_true (tpt_near_name_is_scientific (cases[i].text) == cases[i].scientific);
    }
}

/* Several species in one trigger: it stays until that is all. */
static void
test_also (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_a);
  tpt_naming_decide (f->view, "animal", "Meles meles");
  tpt_naming_decide (f->view, "animal", "Vulpes vulpes");
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_nonnull (ui_find_label (f->window, "Badger (Mira)"));
  g_assert_nonnull (ui_find_label (f->window, "Red fox (Mira)"));
  press (f, GDK_KEY_a);
  g_signal_emit_by_name (find_labelled (f->window, GTK_TYPE_BUTTON, "Take back: Badger (Mira)"), "clicked");
  ui_settle ();
  assert_said (f, 0, "1 Mira: Red fox");
  press (f, GDK_KEY_t);
  ui_settle ();
  assert_said (f, 0, "");
  g_assert_nonnull (ui_find_label (f->window, "Undecided"));
}

/* Details of a decision that was made change that one; a number for certainty
 * that came from elsewhere stays. */
static void
test_amend (Fixture *f, gconstpointer data)
{
  decide_as (f, 0, &(TptDecision){ .type = "animal", .species = "Meles meles", .certainty = 0.62, .by = "Mira" });
  press_with (f, GDK_KEY_at, GDK_SHIFT_MASK);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  press (f, GDK_KEY_Down); /* at once: what waits is written first */
  ui_settle ();
  assert_said (f, 0, "1 Mira: 2 Badger 0.62");
  assert_said (f, 1, "");
  press (f, GDK_KEY_Up);
  ui_settle ();
  ui_wait (is_ready, f);
  press (f, GDK_KEY_p);
  for (int i = 0; i < 5; i++)
    ui_settle ();
  assert_said (f, 0, "1 Mira: 2 Badger 0.75");
}

/* Another's word is kept beside, is told of, and can be let count. */
static void
test_second_opinion (Fixture *f, gconstpointer data)
{
  decide_as (f, 0, &(TptDecision){ .type = "animal", .species = "Meles meles", .certainty = NAN, .by = "Ana" });
  tpt_naming_decide (f->view, "animal", "Vulpes vulpes");
  assert_said (f, 0, "1 Ana: Badger | 2 Mira: Red fox");
  press (f, GDK_KEY_Up);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_nonnull (ui_find_label (f->window, "Ana said Badger, which counts. You said Red fox."));
  g_assert_nonnull (ui_find_label (f->window, "Let “Red fox” count"));
  press (f, GDK_KEY_o);
  ui_settle ();
  assert_said (f, 0, "1 Mira: Red fox | 50 Ana: Badger");
}

/* An undo leads back to the trigger whose decision is gone. */
static void
test_undo (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_b);
  press (f, GDK_KEY_h);
  ui_wait (is_ready, f);
  ui_settle ();
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 2);
  for (int left = 1; left >= 0; left--)
    {
      g_autoptr (TptJobUndo) job = tpt_job_undo_new (FALSE);

      tpt_project_run (f->project, TPT_JOB (job), NULL, NULL);
      ui_settle ();
      ui_wait (is_ready, f);
      g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, (guint) left);
    }
  assert_said (f, 0, "");
  g_assert_nonnull (ui_find_label (f->window, "Trigger 1 of 6, 6 undecided"));
}

static void
undo (Fixture *f)
{
  g_autoptr (TptJobUndo) job = tpt_job_undo_new (FALSE);
  GError *error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  ui_settle ();
  ui_wait (is_ready, f);
}

/* So does the undo of one of several names; the undecided are as on record all
 * the time, and what is gone is not offered again. */
static void
test_undo_besides (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_a);
  tpt_naming_decide (f->view, "animal", "Meles meles");
  tpt_naming_decide (f->view, "animal", "Vulpes vulpes");
  ui_settle ();
  ui_wait (is_ready, f);
  press (f, GDK_KEY_Down);
  g_assert_nonnull (ui_find_label (f->window, "Trigger 2 of 6, 5 undecided"));
  undo (f);
  g_assert_nonnull (ui_find_label (f->window, "Trigger 1 of 6, 5 undecided"));
  g_assert_null (f->view->last);
  press (f, GDK_KEY_Down);
  undo (f);
  g_assert_nonnull (ui_find_label (f->window, "Trigger 1 of 6, 6 undecided"));
  press (f, GDK_KEY_b);
  g_assert_nonnull (ui_find_label (f->window, "Trigger 2 of 6, 5 undecided"));
  press (f, GDK_KEY_Up);
  ui_settle ();
  ui_wait (is_ready, f);
  press (f, GDK_KEY_t);
  ui_settle ();
  ui_wait (is_ready, f);
  press (f, GDK_KEY_h);
  g_assert_nonnull (ui_find_label (f->window, "Trigger 2 of 6, 5 undecided"));
}

/* Changes that were not made here are counted when the list's question is known. */
static void
test_count_anew (Fixture *f, gconstpointer data)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();

  tpt_naming_view_set_query (f->view, query);
  decide_as (f, 3, &(TptDecision){ .type = "blank", .certainty = NAN, .by = "Ana" });
  g_assert_nonnull (ui_find_label (f->window, "Trigger 1 of 6, 5 undecided"));
  undo (f);
  g_assert_nonnull (ui_find_label (f->window, "Trigger 1 of 6, 6 undecided"));
}

/* A species that is gone cannot be said again. */
static void
test_again_gone (Fixture *f, gconstpointer data)
{
  g_autoptr (TptRecord) record = NULL;
  g_autoptr (TptJobEdit) job = NULL;
  GError *error = NULL;

  frames_add_species (f->project, "Sus scrofa", "Wild boar");
  tpt_naming_decide (f->view, "animal", "Sus scrofa");
  ui_settle ();
  ui_wait (is_ready, f);
  press (f, GDK_KEY_Up);
  ui_settle ();
  ui_wait (is_ready, f);
  press (f, GDK_KEY_t);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_nonnull (f->view->last); /* it can be said once more */
  record = get_only (f->project, TPT_TABLE_SPECIES, "scientific_name", "Sus scrofa");
  job = tpt_job_edit_new ("Remove a species");
  tpt_job_edit_remove (job, record);
  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  ui_settle ();
  g_assert_null (f->view->last);
  tpt_naming_decide (f->view, "animal", "Meles meles");
  ui_settle ();
  ui_wait (is_ready, f);
  decide_as (f, 3, &(TptDecision){ .type = "blank", .certainty = NAN, .by = "Ana" });
  g_assert_nonnull (f->view->last); /* still there */
}

/* Details without a name are gone with the trigger, which is told. */
static void
test_not_kept (Fixture *f, gconstpointer data)
{
  press_with (f, GDK_KEY_at, GDK_SHIFT_MASK);
  press (f, GDK_KEY_f);
  press (f, GDK_KEY_Escape);
  g_assert_cmpuint (f->complaints->len, ==, 1);
  g_assert_cmpstr (f->complaints->pdata[0], ==, "Not kept, as no name was given: 2, female");
  press_with (f, GDK_KEY_at, GDK_SHIFT_MASK);
  press (f, GDK_KEY_u);
  press (f, GDK_KEY_Escape);
  g_assert_cmpuint (f->complaints->len, ==, 1);
}

static void
test_walk (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_Right);
  g_assert_cmpuint (f->view->chosen, ==, 1);
  press (f, GDK_KEY_Left);
  press (f, GDK_KEY_Left);
  g_assert_cmpuint (f->view->chosen, ==, 0);
  press (f, GDK_KEY_Up); /* the first already: told, and nothing else */
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  g_assert_cmpuint (f->complaints->len, ==, 1);
  press (f, GDK_KEY_b);
  press (f, GDK_KEY_Down);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 2);
  press (f, GDK_KEY_BackSpace);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  press (f, GDK_KEY_n);
  ui_settle ();
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 1);
  press (f, GDK_KEY_Escape);
  g_assert_true (f->back);
}

/* With every frame listed a trigger is still decided once. */
static void
test_every_frame (Fixture *f, gconstpointer data)
{
  TptFrameList *old = g_object_ref (f->list);

  list_frames (f, TRUE);
  tpt_naming_view_show (f->view, f->list, 1);
  ui_wait (is_ready, f);
  g_assert_cmpuint (f->view->chosen, ==, 1);
  g_assert_nonnull (ui_find_label (f->window, "Trigger 1 of 6, 6 undecided"));
  press (f, GDK_KEY_b);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, FRAMES);
  ui_wait (is_ready, f);
  tpt_frame_list_stop (old);
  g_object_unref (old);
}

static void
test_mark (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_Right);
  press (f, GDK_KEY_g);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_true (tpt_naming_get_row (f->view)->marked);
  g_assert_cmpuint (f->view->chosen, ==, 1);
  g_assert_nonnull (find_labelled (f->window, GTK_TYPE_BUTTON, "Frame 2 of 3, good for guests"));
  press (f, GDK_KEY_g);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_false (tpt_naming_get_row (f->view)->marked);
}

/* The trigger that is left or new is the one that shows. */
static void
test_regroup (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_Right);
  press_with (f, GDK_KEY_N, GDK_SHIFT_MASK);
  ui_wait (is_ready, f);
  list_again (f, FALSE);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (f->list)), ==, N_TRIGGERS + 1);
  g_assert_cmpuint (f->view->rows->len, ==, FRAMES - 1); /* the part that begins with the frame shown */
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 1);
  press_with (f, GDK_KEY_J, GDK_SHIFT_MASK);
  ui_wait (is_ready, f);
  list_again (f, FALSE);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (f->list)), ==, N_TRIGGERS);
  g_assert_cmpuint (f->view->rows->len, ==, FRAMES);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
}

/* Where the new part stands at the other end of the list, the trigger that was
 * split stays on screen. */
static void
test_regroup_elsewhere (Fixture *f, gconstpointer data)
{
  GArray *refs = g_array_new (FALSE, FALSE, sizeof (TptFrameRef));
  gint64 trigger_id = tpt_frame_list_get_ref (f->list, 0).trigger_id;

  press (f, GDK_KEY_Right);
  press_with (f, GDK_KEY_N, GDK_SHIFT_MASK);
  ui_wait (is_ready, f);
  list_again (f, FALSE);
  for (guint i = 0; i < N_TRIGGERS + 1; i++)
    {
      /* as if by a score, the new one last: 0, 2, 3, … 1 */
      TptFrameRef ref = tpt_frame_list_get_ref (f->list, i == 0 ? 0 : i < N_TRIGGERS ? i + 1 : 1);

      g_array_append_val (refs, ref);
    }
  tpt_naming_view_show (f->view, f->list, 0);
  f->view->to_show = tpt_frame_list_get_ref (f->list, 1).trigger_id; /* not seen yet */
  tpt_frame_list_take_refs (f->list, refs);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  g_assert_cmpint (f->view->ref.trigger_id, ==, trigger_id);
  g_assert_cmpuint (f->view->rows->len, ==, 1);
}

static gboolean
says_missing (gpointer data)
{
  Fixture *f = data;

  return gtk_widget_get_visible (GTK_WIDGET (f->view->words)) && strstr (gtk_label_get_label (f->view->words), "t4a.jpg") != NULL;
}

/* A picture that is gone is named in words; the trigger can be decided all the same. */
static void
test_missing (Fixture *f, gconstpointer data)
{
  tpt_naming_view_show (f->view, f->list, MISSING_TRIGGER);
  ui_wait (says_missing, f);
  press (f, GDK_KEY_u);
  assert_said (f, MISSING_TRIGGER, "1 Mira: Unknown");
  g_assert_false (says_missing (f));
}

/* --- writing that fails -------------------------------------------------------------- */

#define TEST_TYPE_STUMBLE (test_stumble_get_type ())
G_DECLARE_FINAL_TYPE (TestStumble, test_stumble, TEST, STUMBLE, TptJob)

struct _TestStumble {
  TptJob parent_instance;
};

G_DEFINE_FINAL_TYPE (TestStumble, test_stumble, TPT_TYPE_JOB)

static gboolean
test_stumble_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_usleep (200 * 1000);
  return TRUE;
}

static void
test_stumble_class_init (TestStumbleClass *klass)
{
  TPT_JOB_CLASS (klass)->run = test_stumble_run;
}

static void
test_stumble_init (TestStumble *self)
{
}

static gboolean
has_failed (gpointer data)
{
  return tpt_decider_get_failed (((Fixture *) data)->view->decider, NULL) == 2;
}

/* Two decisions that cannot be written: the first trigger shows again, both are
 * kept and can be written after all. An unknown species is what the job refuses. */
static void
test_failure (Fixture *f, gconstpointer data)
{
  g_autoptr (TptJob) slow = g_object_new (TEST_TYPE_STUMBLE, NULL);

  ui_settle (); /* the next trigger has been read ahead */
  tpt_project_run_async (f->project, slow, NULL, NULL, NULL); /* so that both are on their way */
  tpt_naming_decide (f->view, "animal", "Nemo nusquam");
  tpt_naming_decide (f->view, "animal", "Nemo nusquam");
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 2);
  ui_wait (has_failed, f);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  g_assert_true (gtk_widget_get_mapped (f->view->trouble));
  g_assert_true (g_str_has_prefix (gtk_label_get_label (f->view->trouble_text), "2 decisions could not be written: "));
  frames_add_species (f->project, "Nemo nusquam", "Nobody");
  g_signal_emit_by_name (find_button (f->window, "Write again"), "clicked");
  ui_settle ();
  assert_said (f, 0, "1 Mira: Nobody");
  assert_said (f, 1, "1 Mira: Nobody");
  g_assert_false (gtk_widget_get_mapped (f->view->trouble));
}

/* What was said is written though the view goes at once. */
static void
test_goes_at_once (Fixture *f, gconstpointer data)
{
  TptFrameRef ref = tpt_frame_list_get_ref (f->list, 0);

  press (f, GDK_KEY_b);
  tpt_naming_view_set_project (f->view, NULL);
  ui_settle ();
  g_assert_null (f->view->rows);
  {
    g_autoptr (TptJobFrameRows) job = tpt_job_frame_rows_new_for_trigger (ref.trigger_id);

    g_assert_true (tpt_project_run (f->project, TPT_JOB (job), NULL, NULL));
    g_assert_true (tpt_frame_row_is_decided (tpt_job_frame_rows_get_rows (job)->pdata[0]));
  }
}

/* --- the picture ------------------------------------------------------------------------ */

static gboolean
has_whole (gpointer data)
{
  return ((Fixture *) data)->view->loading_whole == NULL;
}

static void
test_zoom (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_z);
  g_assert_cmpint (tpt_frame_view_get_zoom (f->view->view), ==, 1);
  ui_wait (has_whole, f);
  press_with (f, GDK_KEY_Right, GDK_SHIFT_MASK);
  press (f, GDK_KEY_Right); /* the next frame at the same zoom */
  g_assert_cmpint (tpt_frame_view_get_zoom (f->view->view), ==, 1);
  ui_wait (is_ready, f);
  ui_wait (has_whole, f);
  press (f, GDK_KEY_Down); /* another trigger is seen as a whole */
  g_assert_cmpint (tpt_frame_view_get_zoom (f->view->view), ==, 0);
}

static void
test_lift_view (Fixture *f, gconstpointer data)
{
  g_assert_cmpfloat (tpt_frame_view_get_lift (f->view->view), ==, 0);
  press (f, GDK_KEY_l);
  ui_wait (is_ready, f);
  g_assert_true (tpt_settings_get_flag ("lift-dark"));
  g_assert_cmpfloat (tpt_frame_view_get_lift (f->view->view), >, 0.2); /* the picture is nearly black */
  press (f, GDK_KEY_minus);
  g_assert_true (f->view->lift_by_hand);
  press (f, GDK_KEY_l);
  ui_wait (is_ready, f);
  g_assert_cmpfloat (tpt_frame_view_get_lift (f->view->view), ==, 0);
}

static void
test_accessible (Fixture *f, gconstpointer data)
{
  static const char *const buttons[] = {
    "Back", "Before", "Next", "Next undecided", "Zoom: fitted", "Lift dark frames", "Good for guests", "Blank", "Human", "Vehicle",
    "Unknown", "Repeat", "And also…", "Take back", "Details", "New trigger from here", "Join with the one before", "Frame 1 of 3",
    "Roe deer, Capreolus capreolus",
  };

  gtk_test_accessible_assert_role (f->view->view, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_test_accessible_assert_property (f->view->view, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Alder ford, 2 March 2026 23:15:00, frame 1 of 3, undecided");
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      g_test_message ("%s", buttons[i]);
      g_assert_nonnull (find_labelled (f->window, GTK_TYPE_BUTTON, buttons[i]));
    }
  g_assert_nonnull (find_labelled (f->window, GTK_TYPE_SCALE, "Brightness of this trigger"));
  g_assert_nonnull (find_labelled (f->window, GTK_TYPE_SPIN_BUTTON, "Count; 0 is unknown"));
  for (const char *const *name = (const char *const[]){ "Behaviour", "Individual", "Notes", NULL }; *name != NULL; name++)
    g_assert_nonnull (find_labelled (f->window, GTK_TYPE_ENTRY, *name));
}

/* A project that goes while things are read takes nothing down with it. */
static void
test_dropped (Fixture *f, gconstpointer data)
{
  press (f, GDK_KEY_Down);
  tpt_naming_view_set_project (f->view, NULL);
  ui_settle ();
  tpt_naming_view_set_project (f->view, f->project);
  tpt_naming_view_show (f->view, f->list, 2);
  ui_wait (is_ready, f);
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 2);
}

/* --- the panel beside the picture ------------------------------------------------------ */

static gboolean
has_keys (Fixture *f)
{
  return gtk_window_get_focus (GTK_WINDOW (f->window)) == GTK_WIDGET (f->view->view);
}

static void
open_details (Fixture *f)
{
  if (!gtk_revealer_get_reveal_child (f->view->details_revealer))
    press (f, GDK_KEY_d);
  ui_settle ();
}

/* A button must not move from under the pointer, whatever there is to show. */
static void
test_width (Fixture *f, gconstpointer data)
{
  const char *longest = "Longissimus verylongusnamewithoutanyspacethatcouldbebrokenanywhere";
  int width;

  ui_settle ();
  width = gtk_widget_get_width (GTK_WIDGET (f->view->panel));
  g_assert_cmpint (width, ==, 344);
  frames_add_species (f->project, longest, "The animal whose common name is longer than any line beside a picture");
  decide_as (f, 0, &(TptDecision){ .type = "animal", .species = longest, .count = 12, .certainty = 0.62, .by = "Mira",
                                   .behaviour = "walking along the trail for a very long while", .notes = longest });
  open_details (f);
  g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (f->view->panel)), ==, width);
  press_with (f, GDK_KEY_at, GDK_SHIFT_MASK);
  gtk_editable_set_text (GTK_EDITABLE (find_labelled (f->window, GTK_TYPE_SEARCH_ENTRY, "Search names")), longest + 12);
  ui_settle ();
  g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (f->view->panel)), ==, width);
  press (f, GDK_KEY_Down);
  ui_settle ();
  ui_wait (is_ready, f);
  g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (f->view->panel)), ==, width);
}

/* One press on + or a digit typed, and the keys are the picture's again. */
static void
test_count_keys (Fixture *f, gconstpointer data)
{
  GtkWidget *count = find_labelled (f->window, GTK_TYPE_SPIN_BUTTON, "Count; 0 is unknown");
  GtkEditable *text = gtk_editable_get_delegate (GTK_EDITABLE (count));

  open_details (f);
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (f->window)), GTK_WIDGET (f->view->details)));
  press_with (f, GDK_KEY_at, GDK_SHIFT_MASK); /* D leads there, and the keys mean what they did */
  g_assert_cmpint (gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (count)), ==, 2);
  gtk_widget_grab_focus (count);
  gtk_spin_button_spin (GTK_SPIN_BUTTON (count), GTK_SPIN_STEP_FORWARD, 1);           /* as its + does */
  g_assert_true (has_keys (f));
  gtk_widget_grab_focus (count);
  gtk_editable_set_text (text, "5");
  g_signal_emit_by_name (find_labelled (f->window, GTK_TYPE_BUTTON, "Blank"), "clicked");
  g_assert_true (has_keys (f));
  assert_said (f, 0, "1 Mira: Blank"); /* what is blank has no count */
  gtk_widget_grab_focus (count);
  gtk_editable_set_text (text, "5");
  g_signal_emit_by_name (find_labelled (f->window, GTK_TYPE_BUTTON, "Unknown"), "clicked");
  assert_said (f, 1, "1 Mira: 5 Unknown");
  gtk_widget_grab_focus (count);
  gtk_editable_set_text (text, "6");
  press (f, GDK_KEY_Escape); /* the view's own: the form was not asked */
  g_assert_true (f->back);
}

static void
send_key (GtkWidget *widget, guint keyval)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  gboolean handled = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers) && !handled; i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
        g_signal_emit_by_name (controller, "key-pressed", keyval, 0, 0, &handled);
    }
  g_assert_true (handled);
}

/* What is typed is kept by going elsewhere and dropped by Escape, in every entry alike. */
static void
test_half_typed (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *entry;
    const char *typed;
    const char *described;
  } cases[] = { { "Behaviour", "resting", "resting" }, { "Individual", "B7", "B7" }, { "Notes", "wet", "wet" },
                { "Count; 0 is unknown", "3", "3" } };

  open_details (f);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int escape = 1; escape >= 0; escape--)
      {
        GType type = i == 3 ? GTK_TYPE_SPIN_BUTTON : GTK_TYPE_ENTRY;
        GtkWidget *entry = find_labelled (f->window, type, cases[i].entry);
        GtkEditable *text = gtk_editable_get_delegate (GTK_EDITABLE (entry));
        g_autofree char *described = NULL;

        g_test_message ("%s, %d", cases[i].entry, escape);
        tpt_details_form_show (f->view->details, NULL);
        gtk_widget_grab_focus (entry);
        gtk_editable_set_text (text, cases[i].typed);
        if (escape)
          send_key (GTK_WIDGET (f->view->details), GDK_KEY_Escape);
        else
          g_signal_emit_by_name (text, "activate");
        g_assert_true (has_keys (f));
        described = tpt_details_form_describe (f->view->details);
        g_assert_cmpstr (described, ==, escape ? NULL : cases[i].described);
        g_assert_true (tpt_details_form_is_touched (f->view->details) == !escape);
      }
}

/* A count typed, then the next trigger: written as if Enter had been pressed. */
static void
test_count_kept (Fixture *f, gconstpointer data)
{
  GtkWidget *count = find_labelled (f->window, GTK_TYPE_SPIN_BUTTON, "Count; 0 is unknown");

  decide_as (f, 0, &(TptDecision){ .type = "animal", .species = "Meles meles", .certainty = NAN, .by = "Mira" });
  open_details (f);
  gtk_widget_grab_focus (count);
  gtk_editable_set_text (gtk_editable_get_delegate (GTK_EDITABLE (count)), "4");
  g_signal_emit_by_name (find_labelled (f->window, GTK_TYPE_BUTTON, "Next"), "clicked");
  g_assert_true (has_keys (f));
  assert_said (f, 0, "1 Mira: 4 Badger");
  press (f, GDK_KEY_Up);
  gtk_widget_grab_focus (count);
  gtk_editable_set_text (gtk_editable_get_delegate (GTK_EDITABLE (count)), "7");
  send_key (count, GDK_KEY_Down); /* leaves, and counts nothing down */
  g_assert_true (has_keys (f));
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
  press (f, GDK_KEY_Down);
  assert_said (f, 0, "1 Mira: 7 Badger");
}

/* Each row of the details is one stop of Tab, either way. */
static void
test_tab (Fixture *f, gconstpointer data)
{
  GtkWidget *count = find_labelled (f->window, GTK_TYPE_SPIN_BUTTON, "Count; 0 is unknown");
  GtkWidget *before;

  open_details (f);
  before = gtk_window_get_focus (GTK_WINDOW (f->window));
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (before), TRUE);
  gtk_widget_child_focus (f->window, GTK_DIR_TAB_BACKWARD);
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (f->window)), count));
  gtk_widget_child_focus (f->window, GTK_DIR_TAB_FORWARD);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (f->window)) == before);
  gtk_widget_child_focus (f->window, GTK_DIR_TAB_FORWARD);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (f->window)) != before);
  gtk_widget_child_focus (f->window, GTK_DIR_TAB_BACKWARD);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (f->window)) == before);
}

/* Letters for what is more than a name; Shift for the life stages. */
static void
test_letters (Fixture *f, gconstpointer data)
{
  static const struct {
    guint key;
    GdkModifierType state;
    const char *described;
  } cases[] = {
    { GDK_KEY_f, 0, "female" },      { GDK_KEY_m, 0, "male" },
    { GDK_KEY_s, 0, "sure" },        { GDK_KEY_p, 0, "probable" },
    { GDK_KEY_y, 0, "maybe" },       { GDK_KEY_A, GDK_SHIFT_MASK, "adult" },
    { GDK_KEY_S, GDK_SHIFT_MASK, "subadult" }, { GDK_KEY_V, GDK_SHIFT_MASK, "juvenile" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *described = NULL;

      tpt_details_form_show (f->view->details, NULL);
      press_with (f, cases[i].key, cases[i].state);
      described = tpt_details_form_describe (f->view->details);
      g_assert_cmpstr (described, ==, cases[i].described);
    }
  g_assert_cmpuint (tpt_naming_view_get_position (f->view), ==, 0);
}

static void
test_templates (void)
{
  const GType types[] = {
    TPT_TYPE_DETAILS_FORM, TPT_TYPE_FRAME_STRIP, TPT_TYPE_FRAME_VIEW, TPT_TYPE_KEY_BUTTON,
    TPT_TYPE_NAME_PAD,     TPT_TYPE_NAMING_VIEW, TPT_TYPE_SAID_LIST,
  };

  ui_check_templates (types, G_N_ELEMENTS (types));
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

  g_test_add_func ("/naming/score", test_score);
  g_test_add_func ("/naming/certainty", test_certainty);
  g_test_add_func ("/naming/clock-words", test_clock_words);
  g_test_add_func ("/naming/lift", test_lift);
  g_test_add_func ("/naming/suggest", test_suggest);
  g_test_add_func ("/naming/texture", test_texture);
  g_test_add_func ("/naming/near", test_near);
  g_test_add_func ("/naming/scientific", test_scientific);
  g_test_add_func ("/naming/templates", test_templates);
  add ("/naming/keys", test_keys);
  add ("/naming/digits", test_digits);
  add ("/naming/search", test_search);
  add ("/naming/new-species", test_new_species);
  add ("/naming/new-besides", test_new_besides);
  add ("/naming/meant", test_meant);
  add ("/naming/also", test_also);
  add ("/naming/amend", test_amend);
  add ("/naming/second-opinion", test_second_opinion);
  add ("/naming/undo", test_undo);
  add ("/naming/undo-besides", test_undo_besides);
  add ("/naming/count-anew", test_count_anew);
  add ("/naming/again-gone", test_again_gone);
  add ("/naming/not-kept", test_not_kept);
  add ("/naming/walk", test_walk);
  add ("/naming/every-frame", test_every_frame);
  add ("/naming/mark", test_mark);
  add ("/naming/regroup", test_regroup);
  add ("/naming/regroup-elsewhere", test_regroup_elsewhere);
  add ("/naming/missing", test_missing);
  add ("/naming/failure", test_failure);
  add ("/naming/goes-at-once", test_goes_at_once);
  add ("/naming/zoom", test_zoom);
  add ("/naming/lift-view", test_lift_view);
  add ("/naming/accessible", test_accessible);
  add ("/naming/dropped", test_dropped);
  add ("/naming/width", test_width);
  add ("/naming/count-keys", test_count_keys);
  add ("/naming/half-typed", test_half_typed);
  add ("/naming/count-kept", test_count_kept);
  add ("/naming/tab", test_tab);
  add ("/naming/letters", test_letters);
  return g_test_run ();
}
