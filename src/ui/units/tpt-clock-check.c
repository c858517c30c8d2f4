#include "config.h"

#include "tpt-clock-check.h"

#include <glib/gi18n-lib.h>

#include "tpt-field.h"
#include "tpt-toggle-bar.h"

struct _TptClockCheck {
  GtkWidget parent_instance;

  TptZone *zone; /* (owned) */
  TptInstant at;
  TptToggleBar *answer;
  TptField *camera, *truth;
  GtkLabel *words;
};

G_DEFINE_FINAL_TYPE (TptClockCheck, tpt_clock_check, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static const TptToggleChoice answers[] = { { "right", N_("Cloc_k is right") }, { "wrong", N_("It is _off") }, { NULL, NULL } };

static gboolean
is_answer (TptClockCheck *self, const char *answer)
{
  return g_strcmp0 (tpt_toggle_bar_get (self->answer), answer) == 0;
}

/* Two units are enough: "2 h 5 min", "3 min 12 s". */
static char *
say_length (gint64 ms)
{
  gint64 s = (ms + 500) / 1000;
  int days = (int) (s / 86400), hours = (int) (s / 3600 % 24), minutes = (int) (s / 60 % 60), seconds = (int) (s % 60);

  if (days > 0)
    return g_strdup_printf (_("%d d %d h"), days, hours);
  if (hours > 0)
    return g_strdup_printf (_("%d h %d min"), hours, minutes);
  if (minutes > 0)
    return g_strdup_printf (_("%d min %d s"), minutes, seconds);
  return g_strdup_printf (_("%d s"), seconds);
}

char *
tpt_clock_check_say (gint64 ahead_ms)
{
  g_autofree char *length = say_length (ABS (ahead_ms));

  if (ABS (ahead_ms) < 500)
    return g_strdup (_("The camera’s clock is right"));
  return g_strdup_printf (ahead_ms > 0 ? _("The camera is %s fast") : _("The camera is %s slow"), length);
}

/* What the camera shows is local time unless it tells its offset. */
static gboolean
reckon (TptClockCheck *self, gint64 *ahead_ms)
{
  g_autofree char *camera = tpt_field_get_text (self->camera), *truth = tpt_field_get_text (self->truth);
  TptInstant instant = tpt_instant_parse (g_strstrip (truth), self->zone, NULL);
  TptReading shown;
  int offset;

  if (instant == TPT_NO_INSTANT || !tpt_reading_parse (g_strstrip (camera), &shown, NULL))
    return FALSE;
  offset = shown.offset_s != TPT_NO_OFFSET ? shown.offset_s : tpt_zone_offset_at (self->zone, instant);
  *ahead_ms = shown.clock_ms - offset * TPT_SECOND - instant;
  return TRUE;
}

static void
changed_cb (TptClockCheck *self)
{
  g_autofree char *words = NULL;
  gint64 ahead_ms;

  if (is_answer (self, "wrong") && reckon (self, &ahead_ms))
    words = tpt_clock_check_say (ahead_ms);
  gtk_label_set_text (self->words, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (self->words), words != NULL);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
answer_cb (TptClockCheck *self)
{
  gboolean wrong = is_answer (self, "wrong");
  g_autofree char *truth = tpt_field_get_text (self->truth);

  gtk_widget_set_visible (GTK_WIDGET (self->camera), wrong);
  gtk_widget_set_visible (GTK_WIDGET (self->truth), wrong);
  if (wrong && *truth == '\0' && self->at != TPT_NO_INSTANT)
    tpt_field_set_instant (self->truth, self->at);
  if (wrong)
    gtk_widget_grab_focus (GTK_WIDGET (self->camera));
  changed_cb (self);
}

static TptField *
add_field (TptClockCheck *self, GtkWidget *box, const char *column)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_VISITS);
  TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, column)], self->zone);

  gtk_widget_set_visible (GTK_WIDGET (field), FALSE);
  gtk_widget_set_hexpand (GTK_WIDGET (field), TRUE);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (field));
  g_signal_connect_swapped (field, "changed", G_CALLBACK (changed_cb), self);
  return field;
}

static void
tpt_clock_check_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&TPT_CLOCK_CHECK (object)->zone, tpt_zone_unref);

  G_OBJECT_CLASS (tpt_clock_check_parent_class)->dispose (object);
}

static void
tpt_clock_check_class_init (TptClockCheckClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_clock_check_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_clock_check_init (TptClockCheck *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  self->at = TPT_NO_INSTANT;
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 4);
}

TptClockCheck *
tpt_clock_check_new (TptZone *zone)
{
  TptClockCheck *self = g_object_new (TPT_TYPE_CLOCK_CHECK, NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *fields = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  /* As high as the line: Tab goes by the middles of what stands in it. */
  GtkWidget *place = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->zone = tpt_zone_ref (zone);
  self->answer = tpt_toggle_bar_new (_("Camera’s clock"), answers, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (self->answer), "beside-field");
  gtk_box_append (GTK_BOX (place), GTK_WIDGET (self->answer));
  gtk_box_append (GTK_BOX (line), place);
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  gtk_box_set_homogeneous (GTK_BOX (fields), TRUE);
  gtk_widget_set_hexpand (fields, TRUE);
  gtk_box_append (GTK_BOX (line), fields);
  self->camera = add_field (self, fields, "camera_clock");
  self->truth = add_field (self, fields, "true_clock");
  self->words = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (self->words, 0);
  gtk_widget_set_visible (GTK_WIDGET (self->words), FALSE);
  gtk_widget_set_parent (GTK_WIDGET (self->words), GTK_WIDGET (self));
  g_signal_connect_swapped (self->answer, "changed", G_CALLBACK (answer_cb), self);
  return self;
}

void
tpt_clock_check_set_moment (TptClockCheck *self, TptInstant at)
{
  self->at = at;
}

gboolean
tpt_clock_check_is_valid (TptClockCheck *self)
{
  return !is_answer (self, "wrong") || (tpt_field_get_error (self->camera) == NULL && tpt_field_get_error (self->truth) == NULL);
}

static void
apply_right (TptClockCheck *self, TptRecord *visit)
{
  TptReading shown = { self->at + tpt_zone_offset_at (self->zone, self->at) * TPT_SECOND, TPT_NO_OFFSET };
  g_autofree char *clock = tpt_reading_format (shown);

  tpt_record_set_text (visit, "camera_clock", clock);
  tpt_record_set_instant (visit, "true_clock", self->at);
}

void
tpt_clock_check_apply (TptClockCheck *self, TptRecord *visit)
{
  if (is_answer (self, "right") && self->at != TPT_NO_INSTANT)
    apply_right (self, visit);
  else if (is_answer (self, "wrong"))
    {
      tpt_field_apply (self->camera, visit);
      tpt_field_apply (self->truth, visit);
    }
}
