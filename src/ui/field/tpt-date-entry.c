#include "config.h"

#include "tpt-date-entry.h"

#include <glib/gi18n-lib.h>

#include "tpt-format.h"

struct _TptDateEntry {
  GtkWidget parent_instance;

  TptZone *zone; /* (owned) (nullable) */
  TptInstant at;
  gboolean showing; /* the entry or the calendar is being set, not typed or clicked */
  gboolean trying;  /* another day than @at stands in the entry */

  GtkEntry *entry;
  GtkMenuButton *button;
  GtkCalendar *calendar;
};

G_DEFINE_FINAL_TYPE (TptDateEntry, tpt_date_entry, GTK_TYPE_WIDGET)

enum {
  SIGNAL_DAY_SET,
  SIGNAL_DAY_TRIED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
mark (TptDateEntry *self, const char *fault)
{
  GtkWidget *entry = GTK_WIDGET (self->entry);

  if (fault != NULL)
    gtk_widget_add_css_class (entry, "error");
  else
    gtk_widget_remove_css_class (entry, "error");
  gtk_widget_set_tooltip_text (entry, fault != NULL ? fault : _("Year, month and day, as in 2026-06-14"));
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                               fault != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static void
show_day (TptDateEntry *self)
{
  g_autofree char *text = tpt_format_iso_day (self->at, self->zone);

  self->trying = FALSE;
  self->showing = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  self->showing = FALSE;
  mark (self, NULL);
}

static void
confirm (TptDateEntry *self, TptInstant at)
{
  at = tpt_zone_day_start (self->zone, at);
  mark (self, NULL);
  self->trying = FALSE;
  if (at == self->at)
    return;
  self->at = at;
  show_day (self);
  g_signal_emit (self, signals[SIGNAL_DAY_SET], 0, (gint64) at);
}

static TptInstant
read_day (TptDateEntry *self)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));

  return tpt_instant_parse (text, self->zone, NULL);
}

static void
try_day (TptDateEntry *self, TptInstant day)
{
  gboolean other = day != TPT_NO_INSTANT;

  if (!other && !self->trying)
    return;
  self->trying = other;
  g_signal_emit (self, signals[SIGNAL_DAY_TRIED], 0, (gint64) day);
}

/* What is being typed is tried as soon as it is a day; Enter means it. */
static void
changed_cb (TptDateEntry *self)
{
  TptInstant at, day;

  if (self->showing || self->zone == NULL || self->at == TPT_NO_INSTANT)
    return;
  at = read_day (self);
  if (at == TPT_NO_INSTANT)
    return;
  day = tpt_zone_day_start (self->zone, at);
  try_day (self, day != tpt_zone_day_start (self->zone, self->at) ? day : TPT_NO_INSTANT);
}

static void
activate_cb (TptDateEntry *self)
{
  TptInstant at;

  if (self->zone == NULL)
    return;
  at = read_day (self);
  if (at == TPT_NO_INSTANT)
    mark (self, _("This is not a date. Write year, month and day, as in 2026-06-14."));
  else
    confirm (self, at);
}

/* Leaving without Enter keeps the day that was. */
static void
leave_cb (TptDateEntry *self)
{
  if (self->zone == NULL || self->at == TPT_NO_INSTANT)
    return;
  try_day (self, TPT_NO_INSTANT);
  show_day (self);
}

static void
open_cb (TptDateEntry *self)
{
  g_autoptr (GDateTime) day = NULL;
  int y, m, d;

  if (self->zone == NULL || self->at == TPT_NO_INSTANT)
    return;
  tpt_civil_from_days (tpt_zone_local_day (self->zone, self->at), &y, &m, &d);
  day = g_date_time_new_utc (y, m, d, 12, 0, 0);
  self->showing = TRUE;
  gtk_calendar_select_day (self->calendar, day);
  self->showing = FALSE;
}

static void
pick_cb (TptDateEntry *self)
{
  g_autoptr (GDateTime) day = NULL;

  if (self->showing || self->zone == NULL)
    return;
  day = gtk_calendar_get_date (self->calendar);
  gtk_menu_button_popdown (self->button);
  confirm (self, tpt_zone_day_from_number (self->zone, tpt_days_from_civil (g_date_time_get_year (day),
                                                                            g_date_time_get_month (day),
                                                                            g_date_time_get_day_of_month (day))));
}

static void
tpt_date_entry_dispose (GObject *object)
{
  TptDateEntry *self = TPT_DATE_ENTRY (object);

  g_clear_pointer (&self->zone, tpt_zone_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_DATE_ENTRY);

  G_OBJECT_CLASS (tpt_date_entry_parent_class)->dispose (object);
}

static void
tpt_date_entry_class_init (TptDateEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_date_entry_dispose;

  signals[SIGNAL_DAY_SET] = g_signal_new ("day-set", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                          G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[SIGNAL_DAY_TRIED] = g_signal_new ("day-tried", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                            G_TYPE_NONE, 1, G_TYPE_INT64);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-date-entry.ui");
  gtk_widget_class_bind_template_child (widget_class, TptDateEntry, entry);
  gtk_widget_class_bind_template_child (widget_class, TptDateEntry, button);
  gtk_widget_class_bind_template_child (widget_class, TptDateEntry, calendar);
  gtk_widget_class_bind_template_callback (widget_class, changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, leave_cb);
  gtk_widget_class_bind_template_callback (widget_class, open_cb);
  gtk_widget_class_bind_template_callback (widget_class, pick_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
}

static void
tpt_date_entry_init (TptDateEntry *self)
{
  self->at = TPT_NO_INSTANT;
  gtk_widget_init_template (GTK_WIDGET (self));
  mark (self, NULL);
}

void
tpt_date_entry_set_day (TptDateEntry *self, TptInstant at, TptZone *zone)
{
  TptZone *kept = tpt_zone_ref (zone);

  g_clear_pointer (&self->zone, tpt_zone_unref);
  self->zone = kept;
  if (at == self->at || self->trying)
    return;
  self->at = at;
  if (at != TPT_NO_INSTANT)
    show_day (self);
}

GtkWidget *
tpt_date_entry_get_entry (TptDateEntry *self)
{
  return GTK_WIDGET (self->entry);
}
