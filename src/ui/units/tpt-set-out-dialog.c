#include "config.h"

#include "tpt-set-out-dialog.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-field.h"
#include "tpt-job-lookup.h"
#include "tpt-job-rate.h"
#include "tpt-rig-panel.h"
#include "tpt-shelf.h"

/* From this many units on there is something to search. */
#define MANY_UNITS 8

struct _TptSetOutDialog {
  TptFormDialog parent_instance;

  char *station;      /* (owned): its code */
  char *name;         /* (owned): its name once that is read, till then its code */
  GHashTable *fields; /* (owned) (element-type utf8 TptField): of the deployment */
  GtkBox *units;
  GtkEditable *search;
  GPtrArray *kinds;   /* (element-type GtkWidget): headings, each before the box of its checks */
  GPtrArray *checks;  /* (element-type GtkCheckButton) */
  GtkLabel *advice;
  TptRigPanel *panel;
};

G_DEFINE_FINAL_TYPE (TptSetOutDialog, tpt_set_out_dialog, TPT_TYPE_FORM_DIALOG)

static TptRecord *
get_unit (GtkCheckButton *check)
{
  return g_object_get_data (G_OBJECT (check), "unit");
}

static TptRecord *
make_deployment (TptSetOutDialog *self)
{
  g_autoptr (TptRecord) deployment = tpt_record_new (TPT_TABLE_DEPLOYMENTS);
  GHashTableIter iter;
  gpointer field;

  tpt_record_set_text (deployment, "station", self->station);
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, NULL, &field))
    if (tpt_field_get_error (field) != NULL || !tpt_field_apply (field, deployment))
      return NULL;
  return g_steal_pointer (&deployment);
}

static guint
count_chosen (TptSetOutDialog *self, const char *kind)
{
  guint n = 0;

  for (guint i = 0; i < self->checks->len; i++)
    n += gtk_check_button_get_active (self->checks->pdata[i]) &&
         g_strcmp0 (tpt_record_get_text (get_unit (self->checks->pdata[i]), "kind"), kind) == 0;
  return n;
}

/* Advice, not a rule: a station without a card may be meant. */
static void
advise (TptSetOutDialog *self)
{
  const char *advice = NULL;

  if (count_chosen (self, "camera") == 0)
    advice = _("No camera is chosen yet.");
  else if (count_chosen (self, "card") == 0)
    advice = _("No card is chosen: the forecast cannot tell when it fills.");
  gtk_label_set_text (self->advice, advice != NULL ? advice : "");
  gtk_widget_set_visible (GTK_WIDGET (self->advice), advice != NULL);
}

static GPtrArray *
list_chosen (TptSetOutDialog *self)
{
  GPtrArray *units = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < self->checks->len; i++)
    if (gtk_check_button_get_active (self->checks->pdata[i]))
      g_ptr_array_add (units, g_object_ref (get_unit (self->checks->pdata[i])));
  return units;
}

/* A field that is wrong leaves the panel with the rest. */
static void
tell_panel (TptSetOutDialog *self, GPtrArray *units)
{
  g_autoptr (TptRecord) deployment = tpt_record_new (TPT_TABLE_DEPLOYMENTS);
  GHashTableIter iter;
  gpointer field;

  if (self->panel == NULL)
    return;
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, NULL, &field))
    tpt_field_apply (field, deployment);
  tpt_rig_panel_set_deployment (self->panel, deployment);
  tpt_rig_panel_set_units (self->panel, units);
}

static void
changed_cb (TptSetOutDialog *self)
{
  g_autoptr (TptRecord) deployment = make_deployment (self);
  g_autoptr (GPtrArray) units = list_chosen (self);
  gboolean any = units->len > 0;

  advise (self);
  tell_panel (self, units);
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), deployment != NULL && tpt_record_is_set (deployment, "start") && any);
}

static void
set_out (TptSetOutDialog *self)
{
  g_autoptr (TptRecord) deployment = make_deployment (self);
  g_autofree char *what = g_strdup_printf (_("Set out at %s"), self->name);
  TptJobEdit *job;

  if (deployment == NULL)
    return;
  job = tpt_job_edit_new (what);
  tpt_job_edit_save (job, deployment);
  for (guint i = 0; i < self->checks->len; i++)
    {
      g_autoptr (TptRecord) fitting = NULL;

      if (!gtk_check_button_get_active (self->checks->pdata[i]))
        continue;
      fitting = tpt_record_new (TPT_TABLE_FITTINGS);
      tpt_record_set_text (fitting, "unit", tpt_record_get_code (get_unit (self->checks->pdata[i])));
      tpt_record_set_instant (fitting, "from", tpt_record_get_instant (deployment, "start"));
      tpt_job_edit_save (job, fitting);
    }
  tpt_form_dialog_run (TPT_FORM_DIALOG (self), job, _("Rig set out"));
}

static void
confirmed_cb (TptSetOutDialog *self)
{
  set_out (self);
}

static void
tpt_set_out_dialog_save (TptFormDialog *dialog)
{
  TptSetOutDialog *self = TPT_SET_OUT_DIALOG (dialog);
  AdwMessageDialog *question;

  if (count_chosen (self, "camera") > 0)
    {
      set_out (self);
      return;
    }
  question = ADW_MESSAGE_DIALOG (adw_message_dialog_new (GTK_WINDOW (self), _("Set out without a camera?"),
                                                         _("No camera is among the units chosen. One can be set out later by bringing "
                                                           "this rig in first.")));
  adw_message_dialog_add_responses (question, "back", _("_Go back"), "set-out", _("_Set out"), NULL);
  adw_message_dialog_set_default_response (question, "back");
  adw_message_dialog_set_close_response (question, "back");
  g_signal_connect_object (question, "response::set-out", G_CALLBACK (confirmed_cb), self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (question));
}

static void
tpt_set_out_dialog_refused (TptFormDialog *dialog, TptJobEdit *job, const char *reason)
{
  const char *column = NULL;
  TptRecord *fault = tpt_job_edit_get_fault (job, &column);
  TptField *field = NULL;

  if (fault != NULL && column != NULL && tpt_record_get_table (fault)->id == TPT_TABLE_DEPLOYMENTS)
    field = g_hash_table_lookup (TPT_SET_OUT_DIALOG (dialog)->fields, column);
  if (field == NULL)
    {
      tpt_form_dialog_set_message (dialog, reason);
      return;
    }
  tpt_field_set_error (field, reason);
  gtk_widget_grab_focus (GTK_WIDGET (field));
}

static gboolean
is_sought (GtkCheckButton *check, const char *sought)
{
  g_autofree char *label = g_utf8_casefold (gtk_check_button_get_label (check), -1);

  return strstr (label, sought) != NULL;
}

/* What is chosen stays in sight whatever is sought. */
static void
search_cb (TptSetOutDialog *self)
{
  g_autofree char *sought = g_utf8_casefold (gtk_editable_get_text (self->search), -1);
  g_autoptr (GHashTable) shown = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < self->checks->len; i++)
    {
      GtkCheckButton *check = self->checks->pdata[i];
      GtkWidget *child = gtk_widget_get_parent (GTK_WIDGET (check));
      gboolean show = gtk_check_button_get_active (check) || is_sought (check, sought);

      gtk_widget_set_visible (child, show);
      if (show)
        g_hash_table_add (shown, gtk_widget_get_parent (child));
    }
  for (guint i = 0; i < self->kinds->len; i++)
    gtk_widget_set_visible (self->kinds->pdata[i], g_hash_table_contains (shown, gtk_widget_get_next_sibling (self->kinds->pdata[i])));
}

static void
add_field (TptSetOutDialog *self, GtkWidget *grid, const char *column)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_DEPLOYMENTS);
  TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, column)],
                                   tpt_project_get_zone (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self))));

  g_hash_table_insert (self->fields, g_strdup (column), field);
  g_signal_connect_swapped (field, "changed", G_CALLBACK (changed_cb), self);
  tpt_form_dialog_put (grid, GTK_WIDGET (field), g_str_equal (column, "notes"));
}

static void
fill (TptSetOutDialog *self, TptProject *project)
{
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  TptInstant now = tpt_project_get_now (project, NULL) / TPT_MINUTE * TPT_MINUTE;
  GtkWidget *grid = tpt_form_dialog_add_grid (dialog, NULL);

  add_field (self, grid, "start");
  add_field (self, grid, "frames_per_trigger");
  self->units = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
  self->search = GTK_EDITABLE (gtk_search_entry_new ());
  gtk_widget_set_visible (GTK_WIDGET (self->search), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->search), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Search the shelf"), -1);
  g_object_set (self->search, "placeholder-text", _("Search the shelf"), NULL);
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (search_cb), self);
  gtk_box_append (self->units, GTK_WIDGET (self->search));
  tpt_form_dialog_add (dialog, _("Units from the shelf"), GTK_WIDGET (self->units));
  self->advice = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (self->advice, 0);
  gtk_widget_add_css_class (GTK_WIDGET (self->advice), "dim-label");
  tpt_form_dialog_add (dialog, NULL, GTK_WIDGET (self->advice));
  tpt_form_dialog_add_caution (dialog, _("Flash capacitors hold a lethal charge after switching off: never open one. Do not mix cells of "
                                         "different chemistry or age; keep lithium cells out of heat. Look out for snakes, stinging insects and "
                                         "falling branches. Ask for permits and the owner’s leave, and mind people’s privacy. Tell somebody your "
                                         "round and the hour you are due back. Local codes and licensed practice come first."));
  grid = tpt_form_dialog_add_grid (dialog, _("How it is set"));
  add_field (self, grid, "frame_mb");
  add_field (self, grid, "sensor_height_m");
  add_field (self, grid, "heading_deg");
  add_field (self, grid, "temperature_c");
  add_field (self, grid, "focal_mm");
  add_field (self, grid, "focus_m");
  add_field (self, grid, "iso");
  add_field (self, grid, "camera_clock_offset_s");
  add_field (self, grid, "notes");
  self->panel = tpt_rig_panel_new ();
  tpt_form_dialog_add (dialog, NULL, GTK_WIDGET (self->panel));
  tpt_field_set_instant (g_hash_table_lookup (self->fields, "start"), now);
  tpt_field_set_text (g_hash_table_lookup (self->fields, "frames_per_trigger"), "3");
}

static void
add_check (TptSetOutDialog *self, TptRecord *unit, GtkWidget *flow)
{
  const char *label = tpt_record_get_text (unit, "model"), *code = tpt_record_get_code (unit);
  g_autofree char *text = label != NULL ? g_strdup_printf ("%s · %s", code, label) : g_strdup (code);
  GtkWidget *check = gtk_check_button_new_with_label (text);

  g_object_set_data_full (G_OBJECT (check), "unit", g_object_ref (unit), g_object_unref);
  g_signal_connect_swapped (check, "toggled", G_CALLBACK (changed_cb), self);
  g_ptr_array_add (self->checks, check);
  gtk_flow_box_append (GTK_FLOW_BOX (flow), check);
  /* The check itself takes the focus, not the place it stands in. */
  gtk_widget_set_focusable (gtk_widget_get_parent (check), FALSE);
}

static void
add_kind (TptSetOutDialog *self, GListModel *shelf, const char *kind)
{
  g_autoptr (GListModel) own = tpt_shelf_filter (shelf, kind);
  GtkWidget *label, *flow;

  if (g_list_model_get_n_items (own) == 0)
    return;
  label = gtk_label_new (tpt_choice_label (kind));
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "caption");
  gtk_box_append (self->units, label);
  g_ptr_array_add (self->kinds, label);
  flow = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), 4);
  gtk_accessible_update_property (GTK_ACCESSIBLE (flow), GTK_ACCESSIBLE_PROPERTY_LABEL, tpt_choice_label (kind), -1);
  gtk_box_append (self->units, flow);
  for (guint i = 0; i < g_list_model_get_n_items (own); i++)
    {
      g_autoptr (TptRecord) unit = g_list_model_get_item (own, i);
      add_check (self, unit, flow);
    }
}

static void
shelf_done_cb (GListModel *shelf, const GError *error, gpointer data)
{
  g_autoptr (TptSetOutDialog) self = data;
  const TptTable *units = tpt_table_get (TPT_TABLE_UNITS);
  const char *const *kinds = units->columns[tpt_table_find (units, "kind")].choices;

  if (error != NULL)
    tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), error->message);
  if (shelf == NULL || tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) == NULL)
    return;
  for (guint i = 0; kinds[i] != NULL; i++)
    add_kind (self, shelf, kinds[i]);
  gtk_widget_set_visible (GTK_WIDGET (self->search), self->checks->len >= MANY_UNITS);
  if (self->checks->len == 0)
    gtk_box_append (self->units, gtk_label_new (_("Every unit is in a rig. Bring one in, or add a unit from the menu.")));
  changed_cb (self);
}

static void
show_name (TptSetOutDialog *self)
{
  g_autofree char *title = g_strdup_printf (_("Set out: %s"), self->name);

  gtk_window_set_title (GTK_WINDOW (self), title);
}

static void
name_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSetOutDialog) self = data;
  g_autoptr (TptRecord) station = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, NULL))
    return; /* the code does as well */
  station = g_list_model_get_item (tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result))), 0);
  if (station == NULL || !tpt_record_is_set (station, "name"))
    return;
  g_free (self->name);
  self->name = g_strdup (tpt_record_get_text (station, "name"));
  show_name (self);
}

static void
read_name (TptSetOutDialog *self, TptProject *project)
{
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (TPT_TABLE_STATIONS, "station", self->station);

  tpt_project_run_async (project, TPT_JOB (job), tpt_form_dialog_get_cancellable (TPT_FORM_DIALOG (self)), name_done_cb,
                         g_object_ref (self));
}

static void
rate_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSetOutDialog) self = data;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, NULL))
    return; /* the panel says that the rate is not known */
  if (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) != NULL)
    tpt_rig_panel_suggest_rate (self->panel, tpt_job_rate_get_triggers_per_day (TPT_JOB_RATE (tpt_project_get_job (result))));
}

static void
read_rate (TptSetOutDialog *self, TptProject *project)
{
  g_autoptr (TptJobRate) job = tpt_job_rate_new ();

  tpt_project_run_async (project, TPT_JOB (job), tpt_form_dialog_get_cancellable (TPT_FORM_DIALOG (self)), rate_done_cb,
                         g_object_ref (self));
}

static void
tpt_set_out_dialog_finalize (GObject *object)
{
  TptSetOutDialog *self = TPT_SET_OUT_DIALOG (object);

  g_free (self->station);
  g_free (self->name);
  g_hash_table_unref (self->fields);
  g_ptr_array_unref (self->kinds);
  g_ptr_array_unref (self->checks);

  G_OBJECT_CLASS (tpt_set_out_dialog_parent_class)->finalize (object);
}

static void
tpt_set_out_dialog_class_init (TptSetOutDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_set_out_dialog_finalize;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_set_out_dialog_save;
  TPT_FORM_DIALOG_CLASS (klass)->refused = tpt_set_out_dialog_refused;
}

static void
tpt_set_out_dialog_init (TptSetOutDialog *self)
{
  self->fields = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->kinds = g_ptr_array_new ();
  self->checks = g_ptr_array_new ();
}

TptSetOutDialog *
tpt_set_out_dialog_new (GtkWindow *parent, TptProject *project, const char *station)
{
  TptSetOutDialog *self = g_object_new (TPT_TYPE_SET_OUT_DIALOG, NULL);

  self->station = g_strdup (station);
  self->name = g_strdup (station);
  tpt_form_dialog_set_up (TPT_FORM_DIALOG (self), parent, project, NULL, _("_Set out"));
  show_name (self);
  fill (self, project);
  read_name (self, project);
  read_rate (self, project);
  tpt_shelf_read (project, tpt_form_dialog_get_cancellable (TPT_FORM_DIALOG (self)), shelf_done_cb, g_object_ref (self));
  return self;
}

void
tpt_set_out_dialog_present (GtkWindow *parent, TptProject *project, const char *station)
{
  gtk_window_present (GTK_WINDOW (tpt_set_out_dialog_new (parent, project, station)));
}
