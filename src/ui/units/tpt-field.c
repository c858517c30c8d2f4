#include "config.h"

#include "tpt-field.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-search.h"

struct _TptField {
  GtkWidget parent_instance;

  GtkLabel *label;
  GtkEntry *entry;
  GtkDropDown *choice;
  GtkBox *which;
  GtkButton *first, *second;
  GtkLabel *reason;

  const TptColumn *column;
  TptZone *zone;     /* (owned) (nullable) */
  GStrv codes;       /* (owned) (nullable): what the choices stand for */
  char *error;       /* (owned) (nullable) */
  int offsets[2];    /* of the two moments a doubled hour can mean */
};

G_DEFINE_FINAL_TYPE (TptField, tpt_field, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
uses_choice (TptField *self)
{
  return self->codes != NULL;
}

static void
show_error (TptField *self, const char *reason)
{
  GtkWidget *control = uses_choice (self) ? GTK_WIDGET (self->choice) : GTK_WIDGET (self->entry);

  g_free (self->error);
  self->error = g_strdup (reason);
  gtk_label_set_text (self->reason, reason != NULL ? reason : "");
  gtk_widget_set_visible (GTK_WIDGET (self->reason), reason != NULL);
  if (reason != NULL)
    gtk_widget_add_css_class (control, "error");
  else
    gtk_widget_remove_css_class (control, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_STATE_INVALID,
                               reason != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  /* Both: not every reader of screens knows the relation. */
  gtk_accessible_update_property (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, reason != NULL ? reason : "", -1);
  if (reason != NULL)
    gtk_accessible_update_relation (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_RELATION_ERROR_MESSAGE, self->reason, -1);
  else
    gtk_accessible_reset_relation (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_RELATION_ERROR_MESSAGE);
}

static char *
say_offset (int seconds, const char *which)
{
  return g_strdup_printf ("%c%02d:%02d (%s)", seconds < 0 ? '-' : '+', ABS (seconds) / 3600, ABS (seconds) / 60 % 60, which);
}

/* The hour that comes twice: both are offered, neither is guessed. */
static void
offer_both (TptField *self, const char *text)
{
  TptReading reading = { 0, TPT_NO_OFFSET };
  TptInstant one, two;
  gboolean doubled = self->column->type == TPT_COLUMN_INSTANT && self->zone != NULL && tpt_reading_parse (text, &reading, NULL) &&
                     reading.offset_s == TPT_NO_OFFSET &&
                     tpt_zone_resolve (self->zone, reading.clock_ms, &one, &two) == TPT_LOCAL_TWICE;

  gtk_widget_set_visible (GTK_WIDGET (self->which), doubled);
  if (!doubled)
    return;
  self->offsets[0] = tpt_zone_offset_at (self->zone, one);
  self->offsets[1] = tpt_zone_offset_at (self->zone, two);
  {
    g_autofree char *first = say_offset (self->offsets[0], _("first"));
    g_autofree char *second = say_offset (self->offsets[1], _("second"));

    gtk_button_set_label (self->first, first);
    gtk_button_set_label (self->second, second);
  }
}

static char *
check (TptField *self, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptRecord) scratch = NULL;

  for (guint t = 0; t < TPT_N_TABLES; t++)
    {
      const TptTable *table = tpt_table_get (t);

      if (self->column < table->columns || self->column >= table->columns + table->n_columns)
        continue;
      scratch = tpt_record_new (t);
      if (!tpt_record_set_from_string (scratch, self->column->name, text, self->zone, &error))
        return g_strdup (error->message);
      if (self->column->required && !tpt_record_is_set (scratch, self->column->name))
        return g_strdup (_("This is needed"));
    }
  return NULL;
}

static void
changed_cb (TptField *self)
{
  g_autofree char *text = NULL, *reason = NULL;

  if (self->column == NULL)
    return;
  text = g_strstrip (tpt_field_get_text (self));
  reason = check (self, text);
  /* An empty field that is needed is not shown as wrong before it is used. */
  show_error (self, *text == '\0' ? NULL : reason);
  g_free (self->error);
  self->error = g_steal_pointer (&reason);
  offer_both (self, text);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
append_offset (TptField *self, int seconds)
{
  g_autofree char *text = g_strstrip (tpt_field_get_text (self));
  g_autofree char *full = g_strdup_printf ("%s%c%02d:%02d", text, seconds < 0 ? '-' : '+', ABS (seconds) / 3600, ABS (seconds) / 60 % 60);

  gtk_editable_set_text (GTK_EDITABLE (self->entry), full);
  gtk_widget_grab_focus (GTK_WIDGET (self->entry));
}

static void
choose_first_cb (TptField *self)
{
  append_offset (self, self->offsets[0]);
}

static void
choose_second_cb (TptField *self)
{
  append_offset (self, self->offsets[1]);
}

static gboolean
tpt_field_grab_focus (GtkWidget *widget)
{
  TptField *self = TPT_FIELD (widget);

  return gtk_widget_grab_focus (uses_choice (self) ? GTK_WIDGET (self->choice) : GTK_WIDGET (self->entry));
}

static void
tpt_field_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_FIELD);

  G_OBJECT_CLASS (tpt_field_parent_class)->dispose (object);
}

static void
tpt_field_finalize (GObject *object)
{
  TptField *self = TPT_FIELD (object);

  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_strfreev (self->codes);
  g_free (self->error);

  G_OBJECT_CLASS (tpt_field_parent_class)->finalize (object);
}

static void
tpt_field_class_init (TptFieldClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_field_dispose;
  object_class->finalize = tpt_field_finalize;
  widget_class->grab_focus = tpt_field_grab_focus;

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-field.ui");
  gtk_widget_class_bind_template_child (widget_class, TptField, label);
  gtk_widget_class_bind_template_child (widget_class, TptField, entry);
  gtk_widget_class_bind_template_child (widget_class, TptField, choice);
  gtk_widget_class_bind_template_child (widget_class, TptField, which);
  gtk_widget_class_bind_template_child (widget_class, TptField, first);
  gtk_widget_class_bind_template_child (widget_class, TptField, second);
  gtk_widget_class_bind_template_child (widget_class, TptField, reason);
  gtk_widget_class_bind_template_callback (widget_class, changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, choose_first_cb);
  gtk_widget_class_bind_template_callback (widget_class, choose_second_cb);
}

static void
tpt_field_init (TptField *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static const char *
hint_of (const TptColumn *column)
{
  switch (column->type)
    {
    case TPT_COLUMN_INSTANT:
    case TPT_COLUMN_READING:
      return _("2026-05-14 07:30");
    case TPT_COLUMN_DATE:
      return _("2026-05-14");
    case TPT_COLUMN_TEXT:
    case TPT_COLUMN_INTEGER:
    case TPT_COLUMN_REAL:
    case TPT_COLUMN_CHOICE:
    case TPT_COLUMN_REFERENCE:
    default:
      return NULL;
    }
}

static void
set_choices (TptField *self)
{
  g_autoptr (GStrvBuilder) labels = g_strv_builder_new ();
  g_auto (GStrv) shown = NULL;

  for (guint i = 0; self->column->choices[i] != NULL; i++)
    g_strv_builder_add (labels, tpt_choice_label (self->column->choices[i]));
  shown = g_strv_builder_end (labels);
  tpt_field_set_codes (self, self->column->choices, (const char *const *) shown);
}

TptField *
tpt_field_new (const TptColumn *column, TptZone *zone)
{
  TptField *self = g_object_new (TPT_TYPE_FIELD, NULL);
  g_autofree char *label = NULL;

  self->column = column;
  self->zone = zone != NULL ? tpt_zone_ref (zone) : NULL;
  label = column->unit != NULL ? g_strdup_printf (_("%s (%s)"), _(column->label), column->unit) : g_strdup (_(column->label));
  gtk_label_set_text (self->label, label);
  gtk_entry_set_placeholder_text (self->entry, hint_of (column));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->choice), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_REQUIRED, column->required, -1);
  if (column->type == TPT_COLUMN_CHOICE)
    set_choices (self);
  else
    changed_cb (self);
  return self;
}

const TptColumn *
tpt_field_get_column (TptField *self)
{
  return self->column;
}

/* The first choice is 'unknown' unless the column is needed. */
void
tpt_field_set_codes (TptField *self, const char *const *codes, const char *const *labels)
{
  g_autoptr (GStrvBuilder) own = g_strv_builder_new ();
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);

  g_strv_builder_add (own, "");
  gtk_string_list_append (list, self->column->required ? _("Choose…") : _("Unknown"));
  for (guint i = 0; codes[i] != NULL; i++)
    {
      g_strv_builder_add (own, codes[i]);
      gtk_string_list_append (list, labels != NULL ? labels[i] : codes[i]);
    }
  g_strfreev (self->codes);
  self->codes = g_strv_builder_end (own);
  gtk_drop_down_set_model (self->choice, G_LIST_MODEL (list));
  if (self->column->type == TPT_COLUMN_REFERENCE)
    tpt_search_anywhere (self->choice);
  gtk_widget_set_visible (GTK_WIDGET (self->choice), TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->entry), FALSE);
  changed_cb (self);
}

char *
tpt_field_get_text (TptField *self)
{
  guint selected;

  if (!uses_choice (self))
    return g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry)));
  selected = gtk_drop_down_get_selected (self->choice);
  return g_strdup (selected != GTK_INVALID_LIST_POSITION && selected < g_strv_length (self->codes) ? self->codes[selected] : "");
}

void
tpt_field_set_text (TptField *self, const char *text)
{
  if (text == NULL)
    text = "";
  if (!uses_choice (self))
    {
      gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
      return;
    }
  for (guint i = 0; self->codes[i] != NULL; i++)
    if (g_str_equal (self->codes[i], text))
      gtk_drop_down_set_selected (self->choice, i);
}

/* Cuts the offset off, and seconds that are nought; "T" becomes a blank. */
static void
shorten_instant (char *text)
{
  char *minute = text + strlen ("2026-05-14T07:30"), *second = minute + strlen (":00");

  text[strlen ("2026-05-14")] = ' ';
  if (g_str_has_prefix (minute, ":00") && *second != '.')
    *minute = '\0';
  else
    second[strcspn (second, "+-Z")] = '\0';
}

void
tpt_field_set_instant (TptField *self, TptInstant instant)
{
  g_autofree char *text = tpt_instant_format (instant, self->zone);
  TptReading reading;
  TptInstant one, two;

  if (self->zone != NULL && tpt_reading_parse (text, &reading, NULL) &&
      tpt_zone_resolve (self->zone, reading.clock_ms, &one, &two) == TPT_LOCAL_ONCE)
    shorten_instant (text);
  tpt_field_set_text (self, text);
}

void
tpt_field_hide_label (TptField *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self->label), FALSE);
}

const char *
tpt_field_get_error (TptField *self)
{
  return self->error;
}

void
tpt_field_set_error (TptField *self, const char *reason)
{
  show_error (self, reason);
}

gboolean
tpt_field_apply (TptField *self, TptRecord *record)
{
  g_autofree char *text = tpt_field_get_text (self);

  return tpt_record_set_from_string (record, self->column->name, text, self->zone, NULL);
}
