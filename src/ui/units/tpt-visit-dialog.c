#include "config.h"

#include "tpt-visit-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-clock-check.h"
#include "tpt-field.h"
#include "tpt-job-lookup.h"
#include "tpt-job-visit.h"
#include "tpt-keypad.h"
#include "tpt-style.h"
#include "tpt-toggle-bar.h"
#include "tpt-visit-rig.h"

/* After the last key in the time, before the rig of that time is asked for. */
#define TYPING_MS 250

static const TptToggleChoice founds[] = {
  { "working", N_("_Working") },   { "dead", N_("_Dead") }, { "card-full", N_("Card _full") },
  { "disturbed", N_("Dis_turbed") }, { "gone", N_("_Gone") }, { NULL, NULL },
};

struct _TptVisitDialog {
  TptFormDialog parent_instance;

  char *station; /* (owned): its code */
  gboolean bring_in;
  TptVisitFacts *facts; /* (owned) (nullable): of the moment of the visit */
  guint reading;        /* how often facts were asked for; older answers are dropped */
  guint waiting;        /* source that will ask */

  TptToggleBar *found;
  TptClockCheck *clock;
  TptVisitRig *rig;
  GHashTable *fields; /* (owned) (element-type utf8 TptField): of the visit */
  gboolean filling;   /* the program is putting in what is usual */
  gboolean touched;   /* somebody has said something */
};

G_DEFINE_FINAL_TYPE (TptVisitDialog, tpt_visit_dialog, TPT_TYPE_FORM_DIALOG)

static TptField *
get_field (TptVisitDialog *self, const char *column)
{
  return g_hash_table_lookup (self->fields, column);
}

/* (transfer full) (nullable): %NULL while something typed cannot be taken. */
static TptRecord *
make_visit (TptVisitDialog *self)
{
  g_autoptr (TptRecord) visit = tpt_record_new (TPT_TABLE_VISITS);
  GHashTableIter iter;
  gpointer field;

  tpt_record_set_text (visit, "station", self->station);
  tpt_record_set_text (visit, "found", tpt_toggle_bar_get (self->found));
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, NULL, &field))
    if (tpt_field_get_error (field) != NULL || !tpt_field_apply (field, visit))
      return NULL;
  if (!tpt_clock_check_is_valid (self->clock))
    return NULL;
  tpt_clock_check_apply (self->clock, visit);
  return g_steal_pointer (&visit);
}

static char *
say_fault (const TptVisitFault *fault)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_VISITS);
  int column = fault->column != NULL ? tpt_table_find (table, fault->column) : -1;

  return column >= 0 ? g_strdup_printf (_("%s: %s"), _(table->columns[column].label), fault->reason) : g_strdup (fault->reason);
}

/* Faults of a unit are told in its row. */
static void
show_faults (TptVisitDialog *self, GPtrArray *faults)
{
  g_autofree char *message = NULL;

  tpt_visit_rig_show_faults (self->rig, faults);
  for (guint i = 0; i < faults->len && message == NULL; i++)
    if (((TptVisitFault *) faults->pdata[i])->line < 0)
      message = say_fault (faults->pdata[i]);
  if (message == NULL && faults->len > 0)
    message = g_strdup (_("One of the units cannot be saved like this; its row says why."));
  tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), message);
}

static void
show_plan (TptVisitDialog *self, TptVisitPlan *plan)
{
  g_autofree char *text = tpt_visit_plan_describe (plan);
  g_autoptr (GString) all = g_string_new (text);
  GPtrArray *warnings = tpt_visit_plan_get_warnings (plan);

  for (guint i = 0; i < warnings->len; i++)
    g_string_append_printf (all, "\n%s", (char *) warnings->pdata[i]);
  tpt_form_dialog_set_note (TPT_FORM_DIALOG (self), tpt_visit_plan_get_faults (plan)->len == 0 ? all->str : NULL);
}

/* What saving would do, and whether it can. */
static void
check (TptVisitDialog *self)
{
  g_autoptr (TptRecord) visit = make_visit (self);
  g_autoptr (GPtrArray) lines = NULL;
  g_autoptr (TptVisitPlan) plan = NULL;
  gboolean ready = visit != NULL && self->facts != NULL && tpt_record_get_instant (visit, "at") == self->facts->at &&
                   tpt_visit_rig_is_valid (self->rig);

  if (!ready)
    {
      tpt_form_dialog_set_note (TPT_FORM_DIALOG (self), NULL);
      tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), FALSE);
      return;
    }
  lines = tpt_visit_rig_make_lines (self->rig);
  plan = tpt_visit_plan_new (self->facts, visit, lines, self->bring_in);
  show_faults (self, tpt_visit_plan_get_faults (plan));
  show_plan (self, plan);
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), tpt_visit_plan_get_faults (plan)->len == 0);
}

static void
changed_cb (TptVisitDialog *self)
{
  if (self->filling)
    return;
  self->touched = TRUE;
  check (self);
}

static void
found_cb (TptVisitDialog *self)
{
  tpt_visit_rig_set_found (self->rig, tpt_toggle_bar_get (self->found));
  changed_cb (self);
}

static const char *
station_title (TptVisitDialog *self)
{
  const char *name = tpt_record_get_text (self->facts->station, "name");

  return name != NULL ? name : self->station;
}

static void
tpt_visit_dialog_save (TptFormDialog *dialog)
{
  TptVisitDialog *self = TPT_VISIT_DIALOG (dialog);
  g_autoptr (TptRecord) visit = make_visit (self);
  g_autoptr (GPtrArray) lines = NULL;
  g_autofree char *what = NULL;

  if (visit == NULL || self->facts == NULL)
    return;
  lines = tpt_visit_rig_make_lines (self->rig);
  what = g_strdup_printf (self->bring_in ? _("Bring in %s") : _("Record visit at %s"), station_title (self));
  tpt_form_dialog_run (dialog, tpt_job_visit_new (what, visit, lines, self->bring_in),
                       self->bring_in ? _("Rig brought in") : _("Visit recorded"));
}

static void
show_facts (TptVisitDialog *self)
{
  g_autofree char *title = g_strdup_printf (self->bring_in ? _("Bring in: %s") : _("Record visit: %s"), station_title (self));

  gtk_window_set_title (GTK_WINDOW (self), title);
  self->filling = TRUE;
  tpt_visit_rig_set_facts (self->rig, self->facts);
  self->filling = FALSE;
  check (self);
}

typedef struct {
  TptVisitDialog *dialog; /* (owned) */
  guint number;
} Asking;

static void
facts_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree Asking *asking = data;
  g_autoptr (TptVisitDialog) self = asking->dialog;
  g_autoptr (GError) error = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), error->message);
      return;
    }
  if (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) == NULL || asking->number != self->reading)
    return; /* closed, or another moment meanwhile */
  g_clear_pointer (&self->facts, tpt_visit_facts_free);
  self->facts = tpt_job_visit_facts_steal (TPT_JOB_VISIT_FACTS (tpt_project_get_job (result)));
  show_facts (self);
}

static void
read_facts (TptVisitDialog *self)
{
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  g_autoptr (TptRecord) scratch = tpt_record_new (TPT_TABLE_VISITS);
  g_autoptr (TptJobVisitFacts) job = NULL;
  Asking *asking;

  if (tpt_form_dialog_get_project (dialog) == NULL || !tpt_field_apply (get_field (self, "at"), scratch) ||
      !tpt_record_is_set (scratch, "at"))
    return;
  asking = g_new0 (Asking, 1);
  asking->dialog = g_object_ref (self);
  asking->number = ++self->reading;
  job = tpt_job_visit_facts_new (self->station, tpt_record_get_instant (scratch, "at"));
  tpt_project_run_async (tpt_form_dialog_get_project (dialog), TPT_JOB (job), tpt_form_dialog_get_cancellable (dialog), facts_done_cb,
                         asking);
}

static gboolean
typed_cb (gpointer data)
{
  TptVisitDialog *self = data;

  self->waiting = 0;
  read_facts (self);
  return G_SOURCE_REMOVE;
}

/* Another moment may have another rig. */
static void
at_cb (TptVisitDialog *self)
{
  g_autoptr (TptRecord) scratch = tpt_record_new (TPT_TABLE_VISITS);

  tpt_field_apply (get_field (self, "at"), scratch);
  tpt_clock_check_set_moment (self->clock, tpt_record_get_instant (scratch, "at"));
  g_clear_handle_id (&self->waiting, g_source_remove);
  if (!self->filling)
    self->waiting = g_timeout_add (TYPING_MS, typed_cb, self);
  changed_cb (self);
}

static TptField *
add_field (TptVisitDialog *self, GtkWidget *box, const char *column)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_VISITS);
  TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, column)],
                                   tpt_project_get_zone (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self))));

  g_hash_table_insert (self->fields, g_strdup (column), field);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (field));
  return field;
}

static GtkWidget *
add_line (TptVisitDialog *self, const char *heading, gboolean even)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);

  gtk_box_set_homogeneous (GTK_BOX (box), even);
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), heading, box);
  return box;
}

/* The same with keys for the mouse beside it. */
static void
add_keyed_field (TptVisitDialog *self, GtkWidget *line, const char *column, gboolean moment)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  TptField *field = add_field (self, box, column);

  gtk_box_append (GTK_BOX (box), tpt_keypad_new (field, moment));
  gtk_box_append (GTK_BOX (line), box);
}

static void
done_cb (TptVisitDialog *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (get_field (self, "left")));
}

static void
working_cb (TptVisitDialog *self)
{
  tpt_visit_rig_say_working (self->rig);
}

static void
add_found (TptVisitDialog *self)
{
  GtkWidget *line = add_line (self, NULL, FALSE), *label = gtk_label_new (_("Found"));

  self->found = tpt_toggle_bar_new (_("Found"), founds, TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (self->found), TRUE);
  gtk_box_layout_set_homogeneous (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self->found))), TRUE);
  gtk_widget_add_css_class (label, "heading");
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->found));
}

static void
add_card_and_clock (TptVisitDialog *self, TptProject *project)
{
  GtkWidget *line = add_line (self, NULL, FALSE), *button = gtk_button_new_with_mnemonic (_("_All were working"));
  /* As high as the line: Tab goes by the middles of what stands in it. */
  GtkWidget *place = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  add_keyed_field (self, line, "frames_on_card", FALSE);
  self->clock = tpt_clock_check_new (tpt_project_get_zone (project));
  gtk_widget_set_hexpand (GTK_WIDGET (self->clock), TRUE);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (self->clock));
  gtk_widget_add_css_class (button, "beside-field");
  gtk_widget_set_tooltip_text (button, _("Says working for every unit whose state is not said yet"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, _("All were working"), -1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (working_cb), self);
  gtk_box_append (GTK_BOX (place), button);
  gtk_box_append (GTK_BOX (line), place);
}

static void
fill (TptVisitDialog *self, TptProject *project)
{
  GtkWidget *line = add_line (self, NULL, TRUE);

  add_keyed_field (self, line, "at", TRUE);
  add_field (self, line, "people");
  add_found (self);
  add_card_and_clock (self, project);
  self->rig = tpt_visit_rig_new (self->bring_in);
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), NULL, GTK_WIDGET (self->rig));
  line = add_line (self, NULL, TRUE);
  add_field (self, line, "left");
  add_field (self, line, "notes");
}

static void
connect (TptVisitDialog *self)
{
  GHashTableIter iter;
  gpointer column, field;

  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, &column, &field))
    g_signal_connect_swapped (field, "changed", g_str_equal (column, "at") ? G_CALLBACK (at_cb) : G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->found, "changed", G_CALLBACK (found_cb), self);
  g_signal_connect_swapped (self->clock, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->rig, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->rig, "done", G_CALLBACK (done_cb), self);
}

/* The usual: now, working. Whoever goes is read from the last visit. */
static void
put_usual (TptVisitDialog *self, TptProject *project)
{
  self->filling = TRUE;
  tpt_field_set_instant (get_field (self, "at"), tpt_project_get_now (project, NULL) / TPT_MINUTE * TPT_MINUTE);
  tpt_field_set_text (get_field (self, "left"), self->bring_in ? _("brought in") : _("working"));
  tpt_toggle_bar_set (self->found, "working");
  self->filling = FALSE;
}

/* Whoever went round last most likely goes round again. */
static void
people_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptVisitDialog) self = data;
  g_autofree char *typed = NULL;
  GListModel *visits;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, NULL) || tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) == NULL)
    return;
  typed = tpt_field_get_text (get_field (self, "people"));
  visits = tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result)));
  for (guint i = g_list_model_get_n_items (visits); *typed == '\0' && i > 0; i--)
    {
      g_autoptr (TptRecord) visit = g_list_model_get_item (visits, i - 1);

      if (!tpt_record_is_set (visit, "people"))
        continue;
      self->filling = TRUE;
      tpt_field_set_text (get_field (self, "people"), tpt_record_get_text (visit, "people"));
      self->filling = FALSE;
      return;
    }
}

static void
read_people (TptVisitDialog *self, TptProject *project)
{
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (TPT_TABLE_VISITS, NULL, NULL);

  tpt_project_run_async (project, TPT_JOB (job), tpt_form_dialog_get_cancellable (TPT_FORM_DIALOG (self)), people_done_cb,
                         g_object_ref (self));
}

/* Enter walks on: a form half filled in is not recorded by the way. */
static gboolean
key_cb (TptVisitDialog *self, guint keyval, guint keycode, GdkModifierType state)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (self));

  if ((keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || focus == NULL ||
      !GTK_IS_TEXT (focus) || gtk_widget_get_ancestor (focus, TPT_TYPE_FIELD) == NULL)
    return FALSE;
  gtk_widget_child_focus (GTK_WIDGET (self), GTK_DIR_TAB_FORWARD);
  return TRUE;
}

/* The question lives a little longer than what it was about. */
static void
drop_cb (TptVisitDialog *self, const char *response, GtkWindow *question)
{
  gtk_window_set_transient_for (question, NULL);
  gtk_window_destroy (GTK_WINDOW (self));
}

/* What somebody has filled in does not go without a question. */
static gboolean
tpt_visit_dialog_close_request (GtkWindow *window)
{
  TptVisitDialog *self = TPT_VISIT_DIALOG (window);
  AdwMessageDialog *question;

  if (!self->touched)
    return GTK_WINDOW_CLASS (tpt_visit_dialog_parent_class)->close_request (window);
  question = ADW_MESSAGE_DIALOG (adw_message_dialog_new (window, _("Leave without recording?"), _("What is filled in here would be lost.")));
  adw_message_dialog_add_responses (question, "back", _("_Go on filling in"), "drop", _("_Leave"), NULL);
  adw_message_dialog_set_response_appearance (question, "drop", ADW_RESPONSE_DESTRUCTIVE);
  adw_message_dialog_set_default_response (question, "back");
  adw_message_dialog_set_close_response (question, "back");
  g_signal_connect_object (question, "response::drop", G_CALLBACK (drop_cb), self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (question));
  return TRUE;
}

static void
tpt_visit_dialog_dispose (GObject *object)
{
  TptVisitDialog *self = TPT_VISIT_DIALOG (object);

  g_clear_handle_id (&self->waiting, g_source_remove);
  g_clear_pointer (&self->facts, tpt_visit_facts_free);

  G_OBJECT_CLASS (tpt_visit_dialog_parent_class)->dispose (object);
}

static void
tpt_visit_dialog_finalize (GObject *object)
{
  TptVisitDialog *self = TPT_VISIT_DIALOG (object);

  g_free (self->station);
  g_hash_table_unref (self->fields);

  G_OBJECT_CLASS (tpt_visit_dialog_parent_class)->finalize (object);
}

static void
tpt_visit_dialog_class_init (TptVisitDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_visit_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_visit_dialog_finalize;
  GTK_WINDOW_CLASS (klass)->close_request = tpt_visit_dialog_close_request;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_visit_dialog_save;
}

static void
tpt_visit_dialog_init (TptVisitDialog *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  tpt_style_add ("/io/github/tapetum/Tapetum/units/units.css");
  gtk_widget_add_css_class (GTK_WIDGET (self), "visit");
  self->fields = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

TptVisitDialog *
tpt_visit_dialog_new (GtkWindow *parent, TptProject *project, const char *station, gboolean bring_in)
{
  TptVisitDialog *self = g_object_new (TPT_TYPE_VISIT_DIALOG, NULL);
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);

  self->station = g_strdup (station);
  self->bring_in = bring_in;
  tpt_form_dialog_set_up (dialog, parent, project, bring_in ? _("Bring in") : _("Record visit"),
                          bring_in ? _("_Bring in") : _("_Record"));
  gtk_window_set_default_size (GTK_WINDOW (self), 1180, 770);
  fill (self, project);
  connect (self);
  put_usual (self, project);
  gtk_widget_grab_focus (GTK_WIDGET (self->found));
  read_people (self, project);
  read_facts (self);
  g_signal_connect_object (project, "changed", G_CALLBACK (read_facts), self, G_CONNECT_SWAPPED);
  return self;
}

gboolean
tpt_visit_dialog_is_ready (TptVisitDialog *self)
{
  return self->facts != NULL;
}

void
tpt_visit_dialog_present (GtkWindow *parent, TptProject *project, const char *station)
{
  gtk_window_present (GTK_WINDOW (tpt_visit_dialog_new (parent, project, station, FALSE)));
}
