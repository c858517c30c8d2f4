#include "config.h"

#include "tpt-reading-row.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-number.h"
#include "tpt-put-in.h"
#include "tpt-reading-figure.h"
#include "tpt-toggle-bar.h"

static const TptToggleChoice states[] = { { "working", N_("_Working") }, { "dead", N_("_Dead") }, { NULL, NULL } };
static const TptToggleChoice actions[] = {
  { "none", N_("_Nothing") },  { "swapped", N_("_Swapped") },   { "charged", N_("C_harged") }, { "cleaned", N_("C_leaned") },
  { "repaired", N_("_Repaired") }, { "removed", N_("Re_moved") }, { NULL, NULL },
};
/* A card holds no charge and is not cleaned; a housing is not charged. */
static const TptToggleChoice card_actions[] = { { "none", N_("_Nothing") }, { "swapped", N_("_Swapped") }, { "removed", N_("Re_moved") }, { NULL, NULL } };
static const TptToggleChoice housing_actions[] = {
  { "none", N_("_Nothing") }, { "swapped", N_("_Swapped") }, { "cleaned", N_("C_leaned") }, { "repaired", N_("_Repaired") },
  { "removed", N_("Re_moved") }, { NULL, NULL },
};

struct _TptReadingRow {
  GtkWidget parent_instance;

  TptRecord *unit; /* (owned) */
  char *found;     /* (owned) (nullable) */
  gboolean bring_in;

  GtkBox *first;
  TptToggleBar *state; /* (nullable): a card or a housing has none */
  TptReadingFigure *figure; /* (nullable): as the state */
  TptToggleBar *action;
  TptPutIn *put_in;
  GtkDropDown *cause;
  GtkLabel *fault;
};

G_DEFINE_FINAL_TYPE (TptReadingRow, tpt_reading_row, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  SIGNAL_LEAVE,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static const char *
get_kind (TptReadingRow *self)
{
  const char *kind = tpt_record_get_text (self->unit, "kind");

  return kind != NULL ? kind : "other";
}

static gboolean
is_card (TptReadingRow *self)
{
  return g_str_equal (get_kind (self), "card");
}

static gboolean
has_charge (TptReadingRow *self)
{
  return !is_card (self) && !g_str_equal (get_kind (self), "housing");
}

static gboolean
is_chosen (TptToggleBar *bar, const char *code)
{
  return bar != NULL && g_strcmp0 (tpt_toggle_bar_get (bar), code) == 0;
}

static const char *const *
get_causes (void)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_UNIT_LOG);

  return table->columns[tpt_table_find (table, "cause")].choices;
}

static void
show_places (TptReadingRow *self)
{
  gboolean harmed = is_chosen (self->state, "dead") || g_strcmp0 (self->found, "disturbed") == 0 ||
                    g_strcmp0 (self->found, "gone") == 0 || gtk_drop_down_get_selected (self->cause) != 0;
  gboolean swapped = is_chosen (self->action, "swapped") && !self->bring_in;

  gtk_widget_set_visible (GTK_WIDGET (self->put_in), swapped);
  gtk_widget_set_visible (GTK_WIDGET (self->cause), harmed);
}

static void
changed_cb (TptReadingRow *self)
{
  show_places (self);
  tpt_reading_row_set_fault (self, self->figure != NULL ? tpt_reading_figure_get_error (self->figure) : NULL);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
leave_row (TptReadingRow *self, int rows)
{
  g_signal_emit (self, signals[SIGNAL_LEAVE], 0, rows);
}

static void
activate_cb (TptReadingRow *self)
{
  leave_row (self, 1);
}

/* S once more takes the next thing to put in. */
static gboolean
press_letter (TptReadingRow *self, gunichar letter)
{
  if (self->figure != NULL && tpt_reading_figure_press (self->figure, letter))
    return TRUE;
  if (is_chosen (self->action, "swapped") && g_strcmp0 (tpt_toggle_bar_find (self->action, letter), "swapped") == 0 && !self->bring_in)
    {
      tpt_put_in_step (self->put_in);
      return TRUE;
    }
  return tpt_toggle_bar_press (self->action, letter) || (self->state != NULL && tpt_toggle_bar_press (self->state, letter));
}

/* On one of the large buttons: there Space chooses, and Enter walks on. */
static gboolean
is_on_bar (TptReadingRow *self)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));

  return focus != NULL && gtk_widget_get_ancestor (focus, TPT_TYPE_TOGGLE_BAR) != NULL;
}

/* Letters typed into the search of a list belong there. */
static gboolean
is_typing_elsewhere (TptReadingRow *self)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));

  return focus == NULL || (GTK_IS_TEXT (focus) && (self->figure == NULL || !gtk_widget_is_ancestor (focus, GTK_WIDGET (self->figure)))) ||
         gtk_widget_get_ancestor (focus, GTK_TYPE_POPOVER) != NULL;
}

static gboolean
key_cb (TptReadingRow *self, guint keyval, guint keycode, GdkModifierType state)
{
  gunichar letter = gdk_keyval_to_unicode (keyval);

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0 || is_typing_elsewhere (self))
    return FALSE;
  if (keyval == GDK_KEY_Down || keyval == GDK_KEY_KP_Down ||
      ((keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter) && is_on_bar (self)))
    leave_row (self, 1);
  else if (keyval == GDK_KEY_Up || keyval == GDK_KEY_KP_Up)
    leave_row (self, -1);
  else if (letter == 0 || (letter != '%' && !g_unichar_isalpha (letter)))
    return FALSE;
  else
    return press_letter (self, letter);
  return TRUE;
}

static gboolean
tpt_reading_row_grab_focus (GtkWidget *widget)
{
  TptReadingRow *self = TPT_READING_ROW (widget);

  return gtk_widget_grab_focus (self->figure != NULL ? GTK_WIDGET (self->figure) : GTK_WIDGET (self->action));
}

static void
tpt_reading_row_dispose (GObject *object)
{
  TptReadingRow *self = TPT_READING_ROW (object);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  g_clear_object (&self->unit);
  g_clear_pointer (&self->found, g_free);

  G_OBJECT_CLASS (tpt_reading_row_parent_class)->dispose (object);
}

static void
tpt_reading_row_class_init (TptReadingRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_reading_row_dispose;
  GTK_WIDGET_CLASS (klass)->grab_focus = tpt_reading_row_grab_focus;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_LEAVE] =
    g_signal_new ("leave", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);
}

static void
tpt_reading_row_init (TptReadingRow *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 4);
  gtk_widget_add_css_class (GTK_WIDGET (self), "reading-row");
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static char *
say_last (TptRecord *last)
{
  g_autofree char *figure = NULL;

  if (last == NULL)
    return NULL;
  if (tpt_record_is_set (last, "percent"))
    {
      figure = tpt_number_format_fixed (tpt_record_get_real (last, "percent"), 0);
      return g_strdup_printf (_("last %s %%"), figure);
    }
  if (!tpt_record_is_set (last, "volts"))
    return NULL;
  figure = tpt_number_format_fixed (tpt_record_get_real (last, "volts"), 2);
  return g_strdup_printf (_("last %s V"), figure);
}

static GtkWidget *
make_name (TptReadingRow *self, TptRecord *last)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *label, *below;
  const char *own = tpt_record_get_text (self->unit, "label");
  g_autofree char *read = say_last (last);
  const char *what = own != NULL ? own : tpt_choice_label (get_kind (self));
  g_autofree char *text = read != NULL ? g_strdup_printf (_("%s, %s"), what, read) : g_strdup (what);

  label = gtk_label_new (tpt_record_get_code (self->unit));
  below = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_xalign (GTK_LABEL (below), 0);
  gtk_label_set_ellipsize (GTK_LABEL (below), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (below), 19);
  gtk_label_set_max_width_chars (GTK_LABEL (below), 19);
  gtk_widget_set_tooltip_text (below, text);
  gtk_widget_add_css_class (label, "strong");
  gtk_widget_add_css_class (below, "caption");
  gtk_widget_add_css_class (below, "quiet");
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), below);
  return box;
}

static GtkWidget *
add_bar (TptReadingRow *self, GtkWidget *box, TptToggleBar **bar, const char *label, const TptToggleChoice *choices)
{
  *bar = tpt_toggle_bar_new (label, choices, FALSE);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (*bar));
  g_signal_connect_swapped (*bar, "changed", G_CALLBACK (changed_cb), self);
  return box;
}

/* Beside the state, where there is room: rows do not move when it is asked for. */
static void
add_cause (TptReadingRow *self, GtkWidget *box)
{
  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);

  gtk_string_list_append (labels, _("Cause?"));
  for (guint i = 0; get_causes ()[i] != NULL; i++)
    gtk_string_list_append (labels, tpt_choice_label (get_causes ()[i]));
  self->cause = GTK_DROP_DOWN (gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&labels)), NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->cause), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Cause of harm"), -1);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->cause), _("Cause of harm"));
  g_signal_connect_swapped (self->cause, "notify::selected", G_CALLBACK (changed_cb), self);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->cause));
}

static void
add_put_in (TptReadingRow *self)
{
  self->put_in = tpt_put_in_new (self->unit);
  gtk_widget_set_halign (GTK_WIDGET (self->put_in), GTK_ALIGN_END);
  g_signal_connect_swapped (self->put_in, "changed", G_CALLBACK (changed_cb), self);
  gtk_widget_set_parent (GTK_WIDGET (self->put_in), GTK_WIDGET (self));
}

static void
fill (TptReadingRow *self, TptRecord *last)
{
  GtkWidget *wrap = gtk_flow_box_new (), *seen = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *done;

  self->first = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8));
  gtk_widget_set_parent (GTK_WIDGET (self->first), GTK_WIDGET (self));
  gtk_box_append (self->first, make_name (self, last));
  if (has_charge (self))
    {
      /* In what it was read last it is most likely read again. */
      self->figure = tpt_reading_figure_new (last != NULL && tpt_record_is_set (last, "volts") && !tpt_record_is_set (last, "percent"));
      g_signal_connect_swapped (self->figure, "changed", G_CALLBACK (changed_cb), self);
      g_signal_connect_swapped (self->figure, "activate", G_CALLBACK (activate_cb), self);
      gtk_box_append (GTK_BOX (seen), GTK_WIDGET (self->figure));
      add_bar (self, seen, &self->state, _("State"), states);
    }
  add_cause (self, seen);
  done = add_bar (self, gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), &self->action, _("Done"),
                  is_card (self) ? card_actions : has_charge (self) ? actions : housing_actions);
  gtk_widget_set_halign (done, GTK_ALIGN_END);
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (wrap), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (wrap), 2);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (wrap), 8);
  gtk_widget_set_hexpand (wrap, TRUE);
  gtk_flow_box_append (GTK_FLOW_BOX (wrap), seen);
  gtk_flow_box_append (GTK_FLOW_BOX (wrap), done);
  gtk_widget_set_focusable (gtk_widget_get_parent (seen), FALSE);
  gtk_widget_set_focusable (gtk_widget_get_parent (done), FALSE);
  gtk_box_append (self->first, wrap);
  add_put_in (self);
  self->fault = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (self->fault, 1);
  gtk_label_set_wrap (self->fault, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (self->fault), "error");
  gtk_widget_set_visible (GTK_WIDGET (self->fault), FALSE);
  gtk_widget_set_parent (GTK_WIDGET (self->fault), GTK_WIDGET (self));
}

TptReadingRow *
tpt_reading_row_new (TptRecord *unit, TptRecord *last)
{
  TptReadingRow *self = g_object_new (TPT_TYPE_READING_ROW, NULL);

  self->unit = g_object_ref (unit);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, tpt_record_get_code (unit), -1);
  fill (self, last);
  show_places (self);
  return self;
}

TptRecord *
tpt_reading_row_get_unit (TptReadingRow *self)
{
  return self->unit;
}

void
tpt_reading_row_set_spares (TptReadingRow *self, GPtrArray *spares, gboolean bring_in)
{
  self->bring_in = bring_in;
  tpt_put_in_set_spares (self->put_in, spares);
  show_places (self);
}

void
tpt_reading_row_set_found (TptReadingRow *self, const char *found)
{
  g_free (self->found);
  self->found = g_strdup (found);
  show_places (self);
}

void
tpt_reading_row_say_working (TptReadingRow *self)
{
  if (self->state != NULL && tpt_toggle_bar_get (self->state) == NULL)
    tpt_toggle_bar_set (self->state, "working");
}

gboolean
tpt_reading_row_is_valid (TptReadingRow *self)
{
  return self->figure == NULL || tpt_reading_figure_get_error (self->figure) == NULL;
}

TptVisitLine *
tpt_reading_row_make_line (TptReadingRow *self)
{
  g_autoptr (TptRecord) reading = tpt_record_new (TPT_TABLE_READINGS);
  guint cause = gtk_drop_down_get_selected (self->cause);
  gboolean harmed = gtk_widget_get_visible (GTK_WIDGET (self->cause)) && cause > 0;
  const char *state = self->state != NULL ? tpt_toggle_bar_get (self->state) : NULL, *action = tpt_toggle_bar_get (self->action);
  double percent = self->figure != NULL ? tpt_reading_figure_get_percent (self->figure) : NAN;
  double volts = self->figure != NULL ? tpt_reading_figure_get_volts (self->figure) : NAN;

  if (isnan (percent) && isnan (volts) && state == NULL && action == NULL && !harmed)
    return NULL;
  tpt_record_set_text (reading, "unit", tpt_record_get_code (self->unit));
  tpt_record_set_text (reading, "state", state);
  tpt_record_set_text (reading, "action", action);
  tpt_record_set_text (reading, "replacement", is_chosen (self->action, "swapped") && !self->bring_in ? tpt_put_in_get (self->put_in) : NULL);
  tpt_record_set_real (reading, "percent", percent);
  tpt_record_set_real (reading, "volts", volts);
  return tpt_visit_line_new (reading, harmed ? get_causes ()[cause - 1] : NULL);
}

void
tpt_reading_row_set_fault (TptReadingRow *self, const char *reason)
{
  gtk_label_set_text (self->fault, reason != NULL ? reason : "");
  gtk_widget_set_visible (GTK_WIDGET (self->fault), reason != NULL);
}
