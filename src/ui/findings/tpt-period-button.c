#include "config.h"

#include "tpt-period-button.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-findings-words.h"
#include "tpt-format.h"

struct _TptPeriodButton {
  GtkWidget parent_instance;

  GtkMenuButton *button;
  GtkLabel *title;
  GtkPopover *popover;
  GtkEntry *first;
  GtkEntry *last;
  GtkLabel *fault;

  TptZone *zone; /* (owned) */
  TptInstant now;
};

G_DEFINE_FINAL_TYPE (TptPeriodButton, tpt_period_button, GTK_TYPE_WIDGET)

enum {
  SIGNAL_PERIOD_SET,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* The first instant of the day, or of the day after it. */
static gboolean
parse_day (const char *text, TptZone *zone, int after, TptInstant *instant, GError **error)
{
  TptReading reading;

  *instant = TPT_NO_INSTANT;
  if (*text == '\0')
    return TRUE;
  if (!tpt_reading_parse (text, &reading, error))
    return FALSE;
  *instant = tpt_zone_day_from_number (zone, reading.clock_ms / TPT_DAY - (reading.clock_ms % TPT_DAY < 0) + after);
  return TRUE;
}

gboolean
tpt_period_parse (const char *first, const char *last, TptZone *zone, TptRange *period, GError **error)
{
  if (!parse_day (first, zone, 0, &period->from, error) || !parse_day (last, zone, 1, &period->to, error))
    return FALSE;
  if (period->from == TPT_NO_INSTANT || period->to == TPT_NO_INSTANT || period->from < period->to)
    return TRUE;
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE, _("The last day is before the first"));
  return FALSE;
}

static void
show_fault (TptPeriodButton *self, const char *fault)
{
  gtk_label_set_label (self->fault, fault != NULL ? fault : "");
  gtk_widget_set_visible (GTK_WIDGET (self->fault), fault != NULL);
}

static void
set_period (TptPeriodButton *self, TptRange period)
{
  gtk_popover_popdown (self->popover);
  tpt_period_button_set_period (self, period);
  g_signal_emit (self, signals[SIGNAL_PERIOD_SET], 0, period.from, period.to);
}

static void
apply_cb (TptPeriodButton *self)
{
  g_autofree char *first = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->first))));
  g_autofree char *last = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->last))));
  g_autoptr (GError) error = NULL;
  TptRange period;

  if (tpt_period_parse (first, last, self->zone, &period, &error))
    set_period (self, period);
  else
    show_fault (self, error->message);
}

static void
last_days_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TptPeriodButton *self = TPT_PERIOD_BUTTON (widget);
  int days = g_variant_get_int32 (parameter);
  gint64 today = tpt_zone_local_day (self->zone, self->now);
  TptRange period = { TPT_NO_INSTANT, TPT_NO_INSTANT };

  if (days > 0)
    period.from = tpt_zone_day_from_number (self->zone, today - days + 1);
  set_period (self, period);
}

static void
tpt_period_button_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_PERIOD_BUTTON);
  G_OBJECT_CLASS (tpt_period_button_parent_class)->dispose (object);
}

static void
tpt_period_button_finalize (GObject *object)
{
  tpt_zone_unref (TPT_PERIOD_BUTTON (object)->zone);
  G_OBJECT_CLASS (tpt_period_button_parent_class)->finalize (object);
}

static void
tpt_period_button_class_init (TptPeriodButtonClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_period_button_dispose;
  object_class->finalize = tpt_period_button_finalize;
  signals[SIGNAL_PERIOD_SET] = g_signal_new ("period-set", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                             NULL, G_TYPE_NONE, 2, G_TYPE_INT64, G_TYPE_INT64);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-period-button.ui");
  gtk_widget_class_bind_template_child (widget_class, TptPeriodButton, button);
  gtk_widget_class_bind_template_child (widget_class, TptPeriodButton, title);
  gtk_widget_class_bind_template_child (widget_class, TptPeriodButton, popover);
  gtk_widget_class_bind_template_child (widget_class, TptPeriodButton, first);
  gtk_widget_class_bind_template_child (widget_class, TptPeriodButton, last);
  gtk_widget_class_bind_template_child (widget_class, TptPeriodButton, fault);
  gtk_widget_class_bind_template_callback (widget_class, apply_cb);
  gtk_widget_class_install_action (widget_class, "period.last-days", "i", last_days_cb);
}

static void
tpt_period_button_init (TptPeriodButton *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->zone = tpt_zone_new ("UTC", NULL);
  tpt_period_button_set_period (self, (TptRange) { TPT_NO_INSTANT, TPT_NO_INSTANT });
}

void
tpt_period_button_set_moment (TptPeriodButton *self, TptZone *zone, TptInstant now)
{
  self->now = now;
  tpt_zone_unref (self->zone);
  self->zone = zone != NULL ? tpt_zone_ref (zone) : tpt_zone_new ("UTC", NULL);
}

static void
show_day (GtkEntry *entry, TptInstant at, TptZone *zone)
{
  g_autofree char *text = at != TPT_NO_INSTANT ? tpt_format_iso_day (at, zone) : g_strdup ("");

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

void
tpt_period_show_days (GtkEntry *first, GtkEntry *last, TptRange period, TptZone *zone)
{
  show_day (first, period.from, zone);
  show_day (last, period.to != TPT_NO_INSTANT ? period.to - 1 : period.to, zone);
}

void
tpt_period_button_set_period (TptPeriodButton *self, TptRange period)
{
  g_autofree char *words = tpt_findings_words_period (period, self->zone);
  g_autofree char *label = g_strdup_printf (_("Period: %s"), words);

  gtk_label_set_label (self->title, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  tpt_period_show_days (self->first, self->last, period, self->zone);
  show_fault (self, NULL);
}
