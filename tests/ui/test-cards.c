/* The window that takes cards in: found, chosen, stopped, pulled out, done. */
#include "config.h"

#include <adwaita.h>

#include "tpt-card-page.h"
#include "tpt-card-sources.h"
#include "tpt-card-words.h"
#include "tpt-cards-dialog.h"
#include "tpt-demo.h"
#include "tpt-job-batches.h"
#include "form-helpers.h"

/* --- a card reader that exists only here ---------------------------------- */

#define FAKE_TYPE_MOUNT (fake_mount_get_type ())
G_DECLARE_FINAL_TYPE (FakeMount, fake_mount, FAKE, MOUNT, GObject)

struct _FakeMount {
  GObject parent_instance;
  char *path; /* (owned) */
};

static GFile *
fake_mount_get_root (GMount *mount)
{
  return g_file_new_for_path (FAKE_MOUNT (mount)->path);
}

static char *
fake_mount_get_name (GMount *mount)
{
  return g_strdup ("Trail card");
}

static void
fake_mount_iface_init (GMountIface *iface)
{
  iface->get_root = fake_mount_get_root;
  iface->get_name = fake_mount_get_name;
}

G_DEFINE_TYPE_WITH_CODE (FakeMount, fake_mount, G_TYPE_OBJECT, G_IMPLEMENT_INTERFACE (G_TYPE_MOUNT, fake_mount_iface_init))

static void
fake_mount_finalize (GObject *object)
{
  g_free (FAKE_MOUNT (object)->path);
  G_OBJECT_CLASS (fake_mount_parent_class)->finalize (object);
}

static void
fake_mount_class_init (FakeMountClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = fake_mount_finalize;
}

static void
fake_mount_init (FakeMount *self)
{
}

static void
tell_reader (const char *signal, const char *path)
{
  g_autoptr (GVolumeMonitor) monitor = g_volume_monitor_get ();
  g_autoptr (FakeMount) mount = g_object_new (FAKE_TYPE_MOUNT, NULL);

  mount->path = g_strdup (path);
  g_signal_emit_by_name (monitor, signal, mount);
}

/* --- what the tests share ------------------------------------------------- */

typedef struct {
  char *folder;
  char *demo;
  char *moss, *duri; /* the demo's cards */
  TptProject *project;
  GtkWindow *parent;
  TptCardsDialog *dialog;
} Fixture;

/* The demo is written once; every test gets a copy of its file and its cards. */
static char *demo_folder;

static void
copy_tree (const char *from, const char *to)
{
  g_autoptr (GDir) dir = g_dir_open (from, 0, NULL);
  g_autoptr (GFile) source = g_file_new_for_path (from), target = g_file_new_for_path (to);
  GError *error = NULL;
  const char *name;

  if (dir == NULL)
    {
      g_file_copy (source, target, G_FILE_COPY_NONE, NULL, NULL, NULL, &error);
      g_assert_no_error (error);
      return;
    }
  g_mkdir_with_parents (to, 0700);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *below = g_build_filename (from, name, NULL), *copy = g_build_filename (to, name, NULL);

      copy_tree (below, copy);
    }
}

static void
copy_demo (const char *to)
{
  static const char *const parts[] = { TPT_DEMO_FILE, "cards" };

  g_mkdir (to, 0700);
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *from = g_build_filename (demo_folder, parts[i], NULL), *copy = g_build_filename (to, parts[i], NULL);

      copy_tree (from, copy);
    }
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autofree char *path = NULL;
  GError *error = NULL;

  f->folder = g_dir_make_tmp ("cards-XXXXXX", NULL);
  f->demo = g_build_filename (f->folder, "demo", NULL);
  f->moss = g_build_filename (f->demo, "cards", "card-moss", NULL);
  f->duri = g_build_filename (f->demo, "cards", "card-duri", NULL);
  path = g_build_filename (f->demo, TPT_DEMO_FILE, NULL);
  copy_demo (f->demo);
  f->project = tpt_project_open (path, &error);
  g_assert_no_error (error);
  f->parent = g_object_new (GTK_TYPE_APPLICATION_WINDOW, NULL);
  gtk_window_present (f->parent);
  f->dialog = tpt_cards_dialog_new (f->parent, f->project, data);
  gtk_window_present (GTK_WINDOW (f->dialog));
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (f->parent);
  ui_settle ();
  g_clear_object (&f->project);
  ui_remove_tree (f->folder);
  g_free (f->folder);
  g_free (f->demo);
  g_free (f->moss);
  g_free (f->duri);
}

static gboolean
is_looked_through (gpointer card)
{
  return tpt_card_get_state (card) != TPT_CARD_LOOKING;
}

static gboolean
is_taken (gpointer card)
{
  return tpt_card_get_state (card) == TPT_CARD_TAKEN;
}

static gboolean
is_stopped (gpointer card)
{
  return tpt_card_get_state (card) == TPT_CARD_STOPPED;
}

static gboolean
is_takeable (gpointer card)
{
  return tpt_card_can_take (card);
}

static TptCard *
add_card (Fixture *f, const char *folder)
{
  TptCard *card = tpt_cards_dialog_add (f->dialog, folder, NULL);

  ui_wait (is_looked_through, card);
  return card;
}

/* (transfer none) (nullable): a button that shows. */
static GtkWidget *
find_shown (Fixture *f, const char *label)
{
  GtkWidget *button = find_button (GTK_WIDGET (f->dialog), label);

  return button != NULL && gtk_widget_get_visible (button) ? button : NULL;
}

static void
press (Fixture *f, const char *label)
{
  GtkWidget *button = find_shown (f, label);

  g_assert_nonnull (button);
  g_assert_true (gtk_widget_is_sensitive (button));
  g_signal_emit_by_name (button, "clicked");
}

static AdwMessageDialog *
find_question (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (ADW_IS_MESSAGE_DIALOG (window))
        return ADW_MESSAGE_DIALOG (window);
    }
  return NULL;
}

static void
answer (const char *response)
{
  AdwMessageDialog *question = find_question ();

  g_assert_nonnull (question);
  adw_message_dialog_response (question, response);
  gtk_window_destroy (GTK_WINDOW (question));
}

/* Goes on whatever the records say. */
static void
take_all (Fixture *f, const char *label)
{
  press (f, label);
  if (find_question () != NULL)
    answer ("take");
}

static int
find_match (TptCard *card, const char *deployment)
{
  GPtrArray *matches = tpt_job_survey_get_matches (tpt_card_get_survey (card));

  for (guint i = 0; i < matches->len; i++)
    if (g_str_equal (((const TptSurveyMatch *) matches->pdata[i])->deployment, deployment))
      return (int) i;
  return -1;
}

static guint
count_batches (Fixture *f, const char *deployment)
{
  g_autoptr (TptJobBatches) job = tpt_job_batches_new ();
  GPtrArray *batches;
  GError *error = NULL;
  guint n = 0;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  batches = tpt_job_batches_get_batches (job);
  for (guint i = 0; i < batches->len; i++)
    n += g_strcmp0 (((const TptBatchState *) batches->pdata[i])->deployment, deployment) == 0;
  return n;
}

/* --- the tests ------------------------------------------------------------ */

static void
test_none (Fixture *f, gconstpointer data)
{
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "No card in the reader"));
  g_assert_nonnull (find_shown (f, "Choose a _folder…"));
  g_assert_nonnull (find_shown (f, "_Close"));
  g_assert_null (find_shown (f, "_Cancel"));
  gtk_test_accessible_assert_role (f->dialog, GTK_ACCESSIBLE_ROLE_DIALOG);
}

/* Two cards from yesterday's round: each is known by its camera, both are taken
 * in one after the other. Of the second, one picture is cut short and one file
 * is empty. */
static void
test_two_cards (Fixture *f, gconstpointer data)
{
  TptCard *moss = add_card (f, f->moss), *duri = add_card (f, f->duri);
  guint n_moss = count_batches (f, "MOSS-1"), n_duri = count_batches (f, "DURI-1");

  g_assert_cmpstr (tpt_card_get_match (moss)->deployment, ==, "MOSS-1");
  g_assert_cmpstr (tpt_card_get_match (duri)->deployment, ==, "DURI-1");
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "serial number FF201004"));
  g_assert_cmpint (tpt_job_survey_get_empty (tpt_card_get_survey (moss)), ==, 0);
  g_assert_cmpint (tpt_job_survey_get_empty (tpt_card_get_survey (duri)), ==, 1);
  take_all (f, "_Take in all 2 cards");
  g_assert_cmpint (tpt_card_get_state (moss), ==, TPT_CARD_TAKING);
  g_assert_cmpint (tpt_card_get_state (duri), ==, TPT_CARD_QUEUED);
  g_assert_nonnull (find_shown (f, "_Cancel"));
  g_assert_null (find_shown (f, "_Close"));
  ui_wait (is_taken, moss);
  ui_wait (is_taken, duri);
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "24 frames in 8 triggers taken in."));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "The clock was put right"));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "Its reset to another date was taken out. 24 frames, the first: "));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "Safe to reuse this card"));
  g_assert_nonnull (find_shown (f, "_Close"));
  g_assert_null (find_shown (f, "_Cancel"));
  g_assert_null (find_shown (f, "_Take in"));
  g_assert_cmpuint (count_batches (f, "MOSS-1"), ==, n_moss + 1);
  g_assert_cmpuint (count_batches (f, "DURI-1"), ==, n_duri + 1);
  g_assert_true (tpt_job_intake_get_safe (tpt_card_get_intake (moss)));
  gtk_list_box_select_row (GTK_LIST_BOX (find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_LIST_BOX, "Cards")),
                           GTK_LIST_BOX_ROW (find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_LIST_BOX_ROW, "card-duri")));
  ui_settle ();
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "set aside or damaged"));
  g_assert_true (tpt_job_intake_get_safe (tpt_card_get_intake (duri)));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "1 picture is damaged and 1 file cannot be read on the card itself."));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "Taken in · safe to reuse · 1 picture damaged, 1 file set aside"));
  g_assert_cmpstr (tpt_card_words_icon (moss), ==, "object-select-symbolic");
  g_assert_cmpstr (tpt_card_words_icon (duri), ==, "dialog-warning-symbolic");
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "IMG_0002.JPG"));
}

/* The clock of card-moss fell back to 2020: the step that puts it right is on,
 * and its frames lie after the visit that noted it. */
static void
test_clock (Fixture *f, gconstpointer data)
{
  TptCard *card = add_card (f, f->moss);
  const TptSurveyMatch *match = tpt_card_get_match (card);
  const TptClockStep *step;
  GtkWidget *check;
  g_autofree char *example = NULL;

  g_assert_cmpuint (match->steps->len, >, 0);
  /* Its frames lie inside only with the clock put right, and that is said. */
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "With the clock put right all its frames lie within"));
  step = match->steps->pdata[0];
  g_assert_true (step->proposed && tpt_card_get_step (card, step->id));
  check = find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_CHECK_BUTTON, step->says);
  g_assert_nonnull (check);
  example = tpt_card_words_example (step, tpt_card_get_zone (card));
  gtk_test_accessible_assert_property (check, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, example);
  g_assert_nonnull (strstr (example, " → "));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), FALSE);
  g_assert_false (tpt_card_get_step (card, step->id));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), TRUE);
  take_all (f, "_Take in");
  ui_wait (is_taken, card);
  /* 2026-06-03T13:48Z, the visit that noted the clock. */
  g_assert_cmpint (tpt_job_intake_get_first (tpt_card_get_intake (card)), >, 1780494480 * TPT_SECOND);
}

/* Without the step the frames stay where the camera put them, and that is in doubt. */
static void
test_clock_as_it_is (Fixture *f, gconstpointer data)
{
  TptCard *card = add_card (f, f->moss);
  const TptSurveyMatch *match = tpt_card_get_match (card);

  for (guint i = 0; i < match->steps->len; i++)
    tpt_card_set_step (card, ((const TptClockStep *) match->steps->pdata[i])->id, FALSE);
  take_all (f, "_Take in");
  ui_wait (is_taken, card);
  /* 2021-01-01T00:00Z */
  g_assert_cmpint (tpt_job_intake_get_last (tpt_card_get_intake (card)), <, 1609459200 * TPT_SECOND);
  g_assert_cmpuint (tpt_job_intake_get_doubts (tpt_card_get_intake (card))->len, >, 0);
}

/* Half a pair holds everything up; a whole one stands in for what visits know. */
static void
test_pair_by_hand (Fixture *f, gconstpointer data)
{
  TptCard *card = add_card (f, f->moss);
  GtkWidget *read, *true_time;
  TptInstant first;

  gtk_expander_set_expanded (GTK_EXPANDER (ui_find (GTK_WIDGET (f->dialog), GTK_TYPE_EXPANDER)), TRUE);
  read = find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_ENTRY, "Camera’s clock");
  true_time = find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_ENTRY, "True time");
  g_assert_nonnull (read);
  g_assert_nonnull (true_time);
  gtk_editable_set_text (GTK_EDITABLE (read), "2020-01-01 00:00:00");
  g_assert_false (tpt_card_can_take (card));
  gtk_editable_set_text (GTK_EDITABLE (true_time), "2026-06-03 21:48:00");
  g_assert_true (tpt_card_can_take (card));
  g_assert_true (tpt_card_has_pair (card));
  g_assert_false (tpt_card_get_step (card, "offset"));
  gtk_editable_set_text (GTK_EDITABLE (read), "");
  gtk_editable_set_text (GTK_EDITABLE (true_time), "");
  g_assert_true (tpt_card_can_take (card));
  g_assert_false (tpt_card_has_pair (card));
  /* A day later than the visit has it: so are the frames, the first of which
   * read 2020-01-01 04:42. */
  gtk_editable_set_text (GTK_EDITABLE (read), "2020-01-01 00:00:00");
  gtk_editable_set_text (GTK_EDITABLE (true_time), "2026-06-04 21:48:00");
  take_all (f, "_Take in");
  ui_wait (is_taken, card);
  /* 2026-06-04T13:48Z, and 4 h 42 min to 4 h 43 min after it. */
  first = tpt_job_intake_get_first (tpt_card_get_intake (card)) - 1780580880 * TPT_SECOND;
  g_assert_cmpint (first, >=, 282 * TPT_MINUTE);
  g_assert_cmpint (first, <, 283 * TPT_MINUTE);
}

/* Somebody who chooses against the records is asked once, and may go on. */
static void
test_objections (Fixture *f, gconstpointer data)
{
  TptCard *card = add_card (f, f->duri);
  GtkWidget *deployment = find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_DROP_DOWN, "Deployment");
  int other = find_match (card, "MOSS-1");

  g_assert_cmpint (other, >=, 0);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (deployment), (guint) other);
  g_assert_cmpint (tpt_card_get_chosen (card), ==, other);
  g_assert_cmpuint (tpt_card_get_match (card)->objections->len, >, 0);
  g_assert_true (tpt_card_is_disputed (card));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), tpt_card_get_match (card)->objections->pdata[0]));
  press (f, "_Take in");
  answer ("back");
  g_assert_cmpint (tpt_card_get_state (card), ==, TPT_CARD_READY);
  press (f, "_Take in");
  answer ("take");
  g_assert_cmpint (tpt_card_get_state (card), ==, TPT_CARD_TAKING);
  ui_wait (is_taken, card);
  g_assert_null (find_question ());
}

/* Stopped, nothing is on record; it goes on, and the same card once more adds
 * nothing. */
static void
test_stop (Fixture *f, gconstpointer data)
{
  TptCard *card = add_card (f, f->moss);
  guint before = count_batches (f, "MOSS-1");
  GtkWidget *row = ui_find (GTK_WIDGET (f->dialog), GTK_TYPE_LIST_BOX_ROW);

  take_all (f, "_Take in");
  press (f, "_Cancel");
  ui_wait (is_stopped, card);
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "Nothing is lost"));
  gtk_test_accessible_assert_property (row, GTK_ACCESSIBLE_PROPERTY_LABEL, "card-moss");
  gtk_test_accessible_assert_property (row, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "Stopped; it can go on");
  g_assert_cmpuint (count_batches (f, "MOSS-1"), ==, before);
  press (f, "_Go on");
  g_assert_null (find_question ()); /* it was answered before */
  ui_wait (is_taken, card);
  g_assert_cmpuint (count_batches (f, "MOSS-1"), ==, before + 1);

  press (f, "_Close");
  ui_settle ();
  f->dialog = tpt_cards_dialog_new (f->parent, f->project, NULL);
  gtk_window_present (GTK_WINDOW (f->dialog));
  card = add_card (f, f->moss);
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "all of them are on record already"));
  take_all (f, "_Take in");
  ui_wait (is_taken, card);
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "There was nothing new to take in."));
  g_assert_cmpuint (count_batches (f, "MOSS-1"), ==, before + 1);
}

/* Closing once stops and tells; closing again closes. */
static void
test_close (Fixture *f, gconstpointer data)
{
  TptCard *card = add_card (f, f->moss);

  take_all (f, "_Take in");
  gtk_window_close (GTK_WINDOW (f->dialog));
  ui_wait (is_stopped, card);
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (f->dialog)));
  tpt_cards_dialog_add (f->dialog, f->duri, NULL); /* and in the middle of looking */
  gtk_window_close (GTK_WINDOW (f->dialog));
  ui_settle ();
}

static void
test_leave_out (Fixture *f, gconstpointer data)
{
  GtkWidget *button;

  add_card (f, f->moss);
  add_card (f, f->duri);
  g_assert_true (tpt_cards_dialog_add (f->dialog, f->duri, NULL) == tpt_cards_dialog_add (f->dialog, f->duri, NULL));
  button = find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_BUTTON, "Leave out card-moss");
  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  g_assert_null (find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_BUTTON, "Leave out card-moss"));
  g_assert_nonnull (find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_BUTTON, "Leave out card-duri"));
  g_assert_nonnull (find_shown (f, "_Take in")); /* one is left */
}

/* A folder that is not there, and one without a picture. */
static void
test_unusable (Fixture *f, gconstpointer data)
{
  g_autofree char *nowhere = g_build_filename (f->folder, "nowhere", NULL);
  g_autofree char *empty = g_build_filename (f->folder, "empty", NULL);
  TptCard *card;

  g_mkdir (empty, 0700);
  card = add_card (f, nowhere);
  g_assert_cmpint (tpt_card_get_state (card), ==, TPT_CARD_UNREAD);
  g_assert_nonnull (tpt_card_get_trouble (card));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), tpt_card_get_trouble (card)));
  card = add_card (f, empty);
  g_assert_cmpint (tpt_card_get_state (card), ==, TPT_CARD_READY);
  g_assert_false (tpt_card_can_take (card));
  g_assert_false (gtk_widget_is_sensitive (find_shown (f, "_Take in")));
}

typedef struct {
  Fixture *fixture;
  const char *name;
} Named;

static gboolean
is_listed (gpointer data)
{
  Named *named = data;

  return find_labelled (GTK_WIDGET (named->fixture->dialog), GTK_TYPE_LIST_BOX_ROW, named->name) != NULL;
}

/* The reader: a card comes by itself and goes; one that was begun waits for its
 * return, and another card in its place is another card. */
static void
test_reader (Fixture *f, gconstpointer data)
{
  Named named = { f, "Trail card" };
  g_autofree char *away = g_build_filename (f->folder, "away", NULL);
  TptCard *card;

  tell_reader ("mount-added", f->moss);
  ui_wait (is_listed, &named);
  card = tpt_cards_dialog_add (f->dialog, f->moss, NULL);
  ui_wait (is_looked_through, card);
  tell_reader ("mount-removed", f->moss);
  g_assert_false (is_listed (&named));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "No card in the reader"));

  tell_reader ("mount-added", f->moss);
  ui_wait (is_listed, &named);
  card = tpt_cards_dialog_add (f->dialog, f->moss, NULL);
  ui_wait (is_looked_through, card);
  take_all (f, "_Take in");
  press (f, "_Cancel");
  ui_wait (is_stopped, card);
  tell_reader ("mount-removed", f->moss);
  g_assert_false (tpt_card_can_take (card));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), "put it back, and it goes on from there"));

  tell_reader ("mount-added", f->moss);
  ui_wait (is_takeable, card);
  g_assert_cmpint (tpt_card_get_state (card), ==, TPT_CARD_STOPPED);
  tell_reader ("mount-removed", f->moss);
  g_assert_cmpint (g_rename (f->moss, away), ==, 0);
  g_assert_cmpint (g_rename (f->duri, f->moss), ==, 0);
  tell_reader ("mount-added", f->moss);
  ui_wait (is_takeable, card);
  g_assert_cmpint (tpt_card_get_state (card), ==, TPT_CARD_READY);
  g_assert_cmpstr (tpt_card_get_match (card)->deployment, ==, "DURI-1");
}

/* Disks without a camera's folders stay out of it. */
static void
test_other_disk (Fixture *f, gconstpointer data)
{
  Named named = { f, "Trail card" };

  tell_reader ("mount-added", f->folder); /* holds a project, and no picture near its top */
  ui_settle ();
  g_assert_false (is_listed (&named));
}

/* Pulled out in the middle: said in words, nothing on record, and it goes on. */
static void
test_pulled (Fixture *f, gconstpointer data)
{
  g_autofree char *away = g_build_filename (f->folder, "away", NULL);
  TptCard *card = add_card (f, f->duri);
  guint before = count_batches (f, "DURI-1");

  g_assert_cmpint (g_rename (f->duri, away), ==, 0);
  take_all (f, "_Take in");
  ui_wait (is_stopped, card);
  g_assert_nonnull (tpt_card_get_trouble (card));
  g_assert_true (is_said_below (GTK_WIDGET (f->dialog), tpt_card_get_trouble (card)));
  g_assert_cmpuint (count_batches (f, "DURI-1"), ==, before);
  g_assert_cmpint (g_rename (away, f->duri), ==, 0);
  press (f, "_Go on");
  ui_wait (is_taken, card);
  g_assert_cmpuint (count_batches (f, "DURI-1"), ==, before + 1);
}

/* One window for one project, and what is given twice is there once. */
static void
test_present (Fixture *f, gconstpointer data)
{
  const char *const folders[] = { f->moss, f->duri, f->moss, NULL };
  GListModel *windows = gtk_window_get_toplevels ();
  guint n_before = g_list_model_get_n_items (windows);

  tpt_cards_dialog_present (f->parent, f->project, NULL, folders);
  g_assert_cmpuint (g_list_model_get_n_items (windows), ==, n_before);
  g_assert_nonnull (find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_LIST_BOX_ROW, "card-moss"));
  g_assert_nonnull (find_labelled (GTK_WIDGET (f->dialog), GTK_TYPE_LIST_BOX_ROW, "card-duri"));
  ui_wait (is_looked_through, tpt_cards_dialog_add (f->dialog, f->moss, NULL));
  ui_wait (is_looked_through, tpt_cards_dialog_add (f->dialog, f->duri, NULL));
}

static void
sort_cb (GSimpleAction *action, GVariant *batch, gpointer shown)
{
  g_assert_null (*(char **) shown);
  *(char **) shown = g_variant_dup_string (batch, NULL);
}

/* Sorting is offered where the window can, with the batch that was made. */
static void
test_sort (Fixture *f, gconstpointer data)
{
  g_autoptr (GSimpleAction) action = g_simple_action_new ("show-batch", G_VARIANT_TYPE_STRING);
  g_autofree char *shown = NULL, *batch = NULL;
  TptCard *card = add_card (f, f->moss);

  take_all (f, "_Take in");
  ui_wait (is_taken, card);
  g_assert_null (find_shown (f, "_Sort these pictures"));
  g_signal_connect (action, "activate", G_CALLBACK (sort_cb), &shown);
  g_action_map_add_action (G_ACTION_MAP (f->parent), G_ACTION (action));
  batch = g_strdup (tpt_job_intake_get_batch (tpt_card_get_intake (card)));
  add_card (f, f->duri); /* what can be done is looked at again */
  g_assert_null (find_shown (f, "_Take in"));
  g_assert_nonnull (find_shown (f, "_Take in card-duri"));
  press (f, "_Sort the pictures of card-moss");
  g_assert_cmpstr (shown, ==, batch);
  ui_settle ();
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer))
{
  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  GError *error = NULL;
  int failed;

  g_test_init (&argc, &argv, NULL);
  adw_init ();
  demo_folder = g_dir_make_tmp ("cards-demo-XXXXXX", NULL);
  g_rmdir (demo_folder);
  g_assert_true (tpt_demo_write (demo_folder, NULL, &error));
  g_assert_no_error (error);

  add ("/cards/none", test_none);
  add ("/cards/two-cards", test_two_cards);
  add ("/cards/clock", test_clock);
  add ("/cards/clock-as-it-is", test_clock_as_it_is);
  add ("/cards/pair-by-hand", test_pair_by_hand);
  add ("/cards/objections", test_objections);
  add ("/cards/stop", test_stop);
  add ("/cards/close", test_close);
  add ("/cards/leave-out", test_leave_out);
  add ("/cards/unusable", test_unusable);
  add ("/cards/reader", test_reader);
  add ("/cards/other-disk", test_other_disk);
  add ("/cards/pulled", test_pulled);
  add ("/cards/present", test_present);
  add ("/cards/sort", test_sort);
  failed = g_test_run ();
  ui_remove_tree (demo_folder);
  g_free (demo_folder);
  return failed;
}
