#include "config.h"

#include "tpt-details-form.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-certainty.h"
#include "tpt-number.h"
#include "tpt-table.h"
#include "tpt-toggle-bar.h"

#define BAR_COLUMN 1
#define N_TEXTS 3

struct _TptDetailsForm {
  GtkWidget parent_instance;

  GtkGrid *grid;
  GtkSpinButton *count;
  GtkLabel *exact;
  GtkEntry *behaviour;
  GtkEntry *individual;
  GtkEntry *notes;

  TptToggleBar *certainty;
  TptToggleBar *sex;
  TptToggleBar *life_stage;
  double number;    /* a certainty that is none of the words, or NAN */
  GtkEntry *texts[N_TEXTS];
  char *kept[N_TEXTS]; /* (owned): what was finished there; what differs is half typed */
  gboolean showing; /* the program changes the form */
  gboolean finishing; /* half typed things are taken */
  gboolean touched;
};

G_DEFINE_FINAL_TYPE (TptDetailsForm, tpt_details_form, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  SIGNAL_LEFT,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static const TptToggleChoice certainties[] = {
  { "sure", N_("_Sure") },
  { "probable", N_("_Probable") },
  { "maybe", N_("Ma_ybe") },
  { NULL, NULL },
};

static const TptToggleChoice sexes[] = {
  { "female", N_("_Female") },
  { "male", N_("_Male") },
  { NULL, NULL },
};

static const TptToggleChoice stages[] = {
  { "adult", N_("_Adult") },
  { "subadult", N_("_Subadult") },
  { "juvenile", N_("Ju_venile") },
  { NULL, NULL },
};

static void
show_number (TptDetailsForm *self)
{
  g_autofree char *number = isnan (self->number) ? NULL : tpt_number_format_fixed (self->number, 4);
  g_autofree char *text = number != NULL ? g_strdup_printf (_("%s, as it was given"), number) : NULL;

  gtk_label_set_label (self->exact, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (self->exact), text != NULL);
}

static void
changed_cb (TptDetailsForm *self)
{
  if (self->showing)
    return;
  self->touched = TRUE;
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

/* The buttons beside a count put the keyboard into it, where the next key would
 * change it again. */
static void
counted_cb (TptDetailsForm *self)
{
  GtkWidget *text = GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (self->count)));

  changed_cb (self);
  if (!self->showing && !self->finishing && gtk_widget_has_focus (text))
    g_signal_emit (self, signals[SIGNAL_LEFT], 0);
}

static void
certainty_cb (TptDetailsForm *self)
{
  if (!self->showing)
    self->number = NAN;
  show_number (self);
  changed_cb (self);
}

static const char *
get_entered (TptDetailsForm *self, int i)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->texts[i]));
}

static gboolean
is_half_typed (TptDetailsForm *self)
{
  for (int i = 0; i < N_TEXTS; i++)
    if (g_strcmp0 (get_entered (self, i), self->kept[i]) != 0)
      return TRUE;
  return FALSE;
}

static void
keep_texts (TptDetailsForm *self)
{
  for (int i = 0; i < N_TEXTS; i++)
    {
      g_free (self->kept[i]);
      self->kept[i] = g_strdup (get_entered (self, i));
    }
}

static void
drop_half_typed (TptDetailsForm *self)
{
  self->showing = TRUE;
  for (int i = 0; i < N_TEXTS; i++)
    gtk_editable_set_text (GTK_EDITABLE (self->texts[i]), self->kept[i]);
  gtk_spin_button_set_value (self->count, gtk_spin_button_get_value (self->count)); /* writes its text anew */
  self->showing = FALSE;
}

void
tpt_details_form_finish (TptDetailsForm *self)
{
  gboolean texts = is_half_typed (self);

  self->finishing = TRUE;
  gtk_spin_button_update (self->count);
  keep_texts (self);
  if (texts)
    changed_cb (self);
  self->finishing = FALSE;
}

static void
leave_cb (TptDetailsForm *self)
{
  tpt_details_form_finish (self);
  g_signal_emit (self, signals[SIGNAL_LEFT], 0);
}

static void
finished_cb (TptDetailsForm *self, GParamSpec *pspec, GtkWidget *text)
{
  if (!self->showing && !gtk_widget_has_focus (text))
    tpt_details_form_finish (self);
}

/* No number stands for a count nobody made. */
static gboolean
count_words_cb (GtkSpinButton *count, gpointer data)
{
  if (gtk_spin_button_get_value_as_int (count) > 0)
    return FALSE;
  gtk_editable_set_text (GTK_EDITABLE (count), "");
  return TRUE;
}

static gboolean
key_cb (TptDetailsForm *self, guint keyval, guint keycode, GdkModifierType state)
{
  if (keyval != GDK_KEY_Escape)
    return FALSE;
  drop_half_typed (self);
  g_signal_emit (self, signals[SIGNAL_LEFT], 0);
  return TRUE;
}

/* The arrows would count up and down, and what was pressed was meant for the list. */
static gboolean
count_key_cb (TptDetailsForm *self, guint keyval, guint keycode, GdkModifierType state)
{
  if (keyval != GDK_KEY_Up && keyval != GDK_KEY_Down && keyval != GDK_KEY_KP_Up && keyval != GDK_KEY_KP_Down)
    return FALSE;
  leave_cb (self);
  return TRUE;
}

static void
tpt_details_form_dispose (GObject *object)
{
  TPT_DETAILS_FORM (object)->showing = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_DETAILS_FORM);

  G_OBJECT_CLASS (tpt_details_form_parent_class)->dispose (object);
}

static void
tpt_details_form_finalize (GObject *object)
{
  for (int i = 0; i < N_TEXTS; i++)
    g_free (TPT_DETAILS_FORM (object)->kept[i]);

  G_OBJECT_CLASS (tpt_details_form_parent_class)->finalize (object);
}

static void
tpt_details_form_class_init (TptDetailsFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_details_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_details_form_finalize;
  signals[SIGNAL_CHANGED] = g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_LEFT] = g_signal_new ("left", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/frames/tpt-details-form.ui");
  gtk_widget_class_bind_template_child (widget_class, TptDetailsForm, grid);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsForm, count);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsForm, exact);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsForm, behaviour);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsForm, individual);
  gtk_widget_class_bind_template_child (widget_class, TptDetailsForm, notes);
  gtk_widget_class_bind_template_callback (widget_class, counted_cb);
  gtk_widget_class_bind_template_callback (widget_class, leave_cb);
  gtk_widget_class_bind_template_callback (widget_class, count_words_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
watch_count (TptDetailsForm *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_spin_button_update (self->count);
  g_signal_connect_swapped (gtk_editable_get_delegate (GTK_EDITABLE (self->count)), "activate", G_CALLBACK (leave_cb), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (count_key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->count), keys);
}

/* The keyboard is in the text inside an entry, never in the entry itself. */
static void
watch_texts (TptDetailsForm *self)
{
  self->texts[0] = self->behaviour;
  self->texts[1] = self->individual;
  self->texts[2] = self->notes;
  for (int i = 0; i < N_TEXTS; i++)
    g_signal_connect_swapped (gtk_editable_get_delegate (GTK_EDITABLE (self->texts[i])), "notify::has-focus",
                              G_CALLBACK (finished_cb), self);
  keep_texts (self);
}

static TptToggleBar *
add_bar (TptDetailsForm *self, const char *label, const TptToggleChoice *choices, int row, GCallback callback)
{
  TptToggleBar *bar = tpt_toggle_bar_new (label, choices, FALSE);

  gtk_widget_set_hexpand (GTK_WIDGET (bar), TRUE);
  gtk_grid_attach (self->grid, GTK_WIDGET (bar), BAR_COLUMN, row, 1, 1);
  g_signal_connect_swapped (bar, "changed", callback, self);
  return bar;
}

static void
tpt_details_form_init (TptDetailsForm *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->number = NAN;
  self->showing = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->certainty = add_bar (self, _("Certainty"), certainties, 1, G_CALLBACK (certainty_cb));
  self->sex = add_bar (self, _("Sex"), sexes, 3, G_CALLBACK (changed_cb));
  self->life_stage = add_bar (self, _("Life stage"), stages, 4, G_CALLBACK (changed_cb));
  watch_count (self);
  watch_texts (self);
  self->showing = FALSE;
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static void
set_text (GtkEntry *entry, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (entry), text != NULL ? text : "");
}

void
tpt_details_form_show (TptDetailsForm *self, const TptSeen *seen)
{
  double certainty = seen != NULL ? seen->certainty : NAN;
  const char *word = tpt_certainty_get_code (certainty);

  self->showing = TRUE;
  self->number = word == NULL ? certainty : NAN;
  gtk_spin_button_set_value (self->count, seen != NULL ? seen->count : 0);
  gtk_spin_button_update (self->count);
  tpt_toggle_bar_set (self->certainty, word);
  tpt_toggle_bar_set (self->sex, seen != NULL ? seen->sex : NULL);
  tpt_toggle_bar_set (self->life_stage, seen != NULL ? seen->life_stage : NULL);
  set_text (self->behaviour, seen != NULL ? seen->behaviour : NULL);
  set_text (self->individual, seen != NULL ? seen->individual : NULL);
  set_text (self->notes, seen != NULL ? seen->notes : NULL);
  show_number (self);
  keep_texts (self);
  self->showing = FALSE;
  self->touched = FALSE;
}

/* (nullable) */
static const char *
get_text (GtkEntry *entry)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));

  return text[0] != '\0' ? text : NULL;
}

/* Only a word says anything but a number that was given before. */
static double
get_certainty (TptDetailsForm *self)
{
  const char *word = tpt_toggle_bar_get (self->certainty);

  return word != NULL ? tpt_certainty_from_code (word) : self->number;
}

void
tpt_details_form_fill (TptDetailsForm *self, TptDecision *decision)
{
  decision->count = gtk_spin_button_get_value_as_int (self->count);
  decision->sex = tpt_toggle_bar_get (self->sex);
  decision->life_stage = tpt_toggle_bar_get (self->life_stage);
  decision->behaviour = get_text (self->behaviour);
  decision->individual = get_text (self->individual);
  decision->notes = get_text (self->notes);
  decision->certainty = get_certainty (self);
}

gboolean
tpt_details_form_is_touched (TptDetailsForm *self)
{
  return self->touched || is_half_typed (self);
}

void
tpt_details_form_set_written (TptDetailsForm *self)
{
  keep_texts (self);
  self->touched = FALSE;
}

void
tpt_details_form_set_count (TptDetailsForm *self, int count)
{
  gtk_spin_button_set_value (self->count, count);
}

void
tpt_details_form_enter (TptDetailsForm *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->certainty));
}

gboolean
tpt_details_form_press (TptDetailsForm *self, gunichar letter, gboolean shift)
{
  if (shift)
    return tpt_toggle_bar_press (self->life_stage, letter);
  return tpt_toggle_bar_press (self->certainty, letter) || tpt_toggle_bar_press (self->sex, letter);
}

static void
add_word (GString *words, const char *word)
{
  if (word != NULL)
    g_string_append_printf (words, "%s%s", words->len > 0 ? ", " : "", word);
}

char *
tpt_details_form_describe (TptDetailsForm *self)
{
  GString *words = g_string_new (NULL);
  TptDecision all = { 0 };
  g_autofree char *number = NULL, *sex = NULL, *stage = NULL;

  tpt_details_form_fill (self, &all);
  number = all.count > 0 ? g_strdup_printf ("%d", all.count) : NULL;
  sex = all.sex != NULL ? tpt_choice_inline (all.sex) : NULL;
  stage = all.life_stage != NULL ? tpt_choice_inline (all.life_stage) : NULL;
  add_word (words, number);
  add_word (words, sex);
  add_word (words, stage);
  add_word (words, all.behaviour);
  add_word (words, all.individual);
  add_word (words, tpt_certainty_get_word (all.certainty));
  add_word (words, all.notes);
  return g_string_free (words, words->len == 0);
}
