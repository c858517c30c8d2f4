#include "config.h"

#include "tpt-toggle-bar.h"

#include <glib/gi18n-lib.h>
#include <string.h>

struct _TptToggleBar {
  GtkWidget parent_instance;

  const TptToggleChoice *choices;
  GPtrArray *buttons; /* (element-type GtkToggleButton): their parent is this */
  gboolean setting;   /* others are being switched off */
};

G_DEFINE_FINAL_TYPE (TptToggleBar, tpt_toggle_bar, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* One button at a time takes the Tab key. The keyboard goes along, or the first Tab
 * would lead from one button of the bar to another. */
static void
rove (TptToggleBar *self, GtkWidget *to)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  gtk_widget_set_focusable (to, TRUE);
  if (focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self)))
    gtk_widget_grab_focus (to);
  for (guint i = 0; i < self->buttons->len; i++)
    gtk_widget_set_focusable (self->buttons->pdata[i], self->buttons->pdata[i] == (gpointer) to);
}

static void
toggled_cb (TptToggleBar *self, GtkToggleButton *button)
{
  if (self->setting)
    return;
  self->setting = TRUE;
  for (guint i = 0; i < self->buttons->len && gtk_toggle_button_get_active (button); i++)
    if (self->buttons->pdata[i] != (gpointer) button)
      gtk_toggle_button_set_active (self->buttons->pdata[i], FALSE);
  self->setting = FALSE;
  rove (self, GTK_WIDGET (button));
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
walk (TptToggleBar *self, int step)
{
  for (guint i = 0; i < self->buttons->len; i++)
    {
      int to = (int) i + step;

      if (!gtk_widget_get_focusable (self->buttons->pdata[i]) || to < 0 || to >= (int) self->buttons->len)
        continue;
      rove (self, self->buttons->pdata[to]);
      gtk_widget_grab_focus (self->buttons->pdata[to]);
      return;
    }
}

/* At once: a button pressed by a key answers a quarter of a second later, and
 * what is typed meanwhile would go astray. */
static void
press_focused (TptToggleBar *self)
{
  for (guint i = 0; i < self->buttons->len; i++)
    if (gtk_widget_has_focus (self->buttons->pdata[i]))
      {
        gtk_toggle_button_set_active (self->buttons->pdata[i], !gtk_toggle_button_get_active (self->buttons->pdata[i]));
        return;
      }
}

static gboolean
key_cb (TptToggleBar *self, guint keyval, guint keycode, GdkModifierType state)
{
  int forward = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL ? -1 : 1;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return FALSE;
  if (keyval == GDK_KEY_Right || keyval == GDK_KEY_KP_Right)
    walk (self, forward);
  else if (keyval == GDK_KEY_Left || keyval == GDK_KEY_KP_Left)
    walk (self, -forward);
  else if (keyval == GDK_KEY_space || keyval == GDK_KEY_KP_Space || keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter)
    press_focused (self);
  else
    return FALSE;
  return TRUE;
}

static gboolean
tpt_toggle_bar_grab_focus (GtkWidget *widget)
{
  TptToggleBar *self = TPT_TOGGLE_BAR (widget);

  for (guint i = 0; i < self->buttons->len; i++)
    if (gtk_widget_get_focusable (self->buttons->pdata[i]))
      return gtk_widget_grab_focus (self->buttons->pdata[i]);
  return FALSE;
}

/* One stop: Tab, either way, that comes from inside leads out. Backwards it would
 * come back to the button it came from. */
static gboolean
tpt_toggle_bar_focus (GtkWidget *widget, GtkDirectionType direction)
{
  gboolean tab = direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD;
  GtkRoot *root = gtk_widget_get_root (widget);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  if (tab && focus != NULL && gtk_widget_is_ancestor (focus, widget))
    return FALSE;
  return GTK_WIDGET_CLASS (tpt_toggle_bar_parent_class)->focus (widget, direction);
}

static void
tpt_toggle_bar_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  g_ptr_array_set_size (TPT_TOGGLE_BAR (object)->buttons, 0);

  G_OBJECT_CLASS (tpt_toggle_bar_parent_class)->dispose (object);
}

static void
tpt_toggle_bar_finalize (GObject *object)
{
  g_ptr_array_unref (TPT_TOGGLE_BAR (object)->buttons);

  G_OBJECT_CLASS (tpt_toggle_bar_parent_class)->finalize (object);
}

static void
tpt_toggle_bar_class_init (TptToggleBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_toggle_bar_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_toggle_bar_finalize;
  GTK_WIDGET_CLASS (klass)->grab_focus = tpt_toggle_bar_grab_focus;
  GTK_WIDGET_CLASS (klass)->focus = tpt_toggle_bar_focus;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_toggle_bar_init (TptToggleBar *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->buttons = g_ptr_array_new ();
  gtk_widget_add_css_class (GTK_WIDGET (self), "linked");
  gtk_widget_add_css_class (GTK_WIDGET (self), "toggle-bar");
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

/* "C_harged": "Charged", and where the letter stands. */
static char *
strip_underscore (const char *text, const char **letter)
{
  const char *at = strchr (text, '_');

  *letter = at != NULL ? at + 1 : NULL;
  return at != NULL ? g_strdup_printf ("%.*s%s", (int) (at - text), text, at + 1) : g_strdup (text);
}

/* A letter that works without Alt is underlined without Alt, too. */
static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = gtk_label_new (NULL);
  const char *letter;
  g_autofree char *plain = strip_underscore (text, &letter);
  g_autofree char *before = NULL, *own = NULL, *markup = NULL;

  if (letter == NULL)
    {
      gtk_label_set_text (GTK_LABEL (label), plain);
      return label;
    }
  before = g_strndup (text, letter - 1 - text);
  own = g_strndup (letter, g_utf8_next_char (letter) - letter);
  markup = g_markup_printf_escaped ("%s<u>%s</u>%s", before, own, g_utf8_next_char (letter));
  gtk_label_set_markup (GTK_LABEL (label), markup);
  return label;
}

static GtkWidget *
make_button (const char *text, gboolean mnemonic)
{
  GtkWidget *button = mnemonic ? gtk_toggle_button_new_with_mnemonic (text) : gtk_toggle_button_new ();
  const char *letter;
  g_autofree char *plain = strip_underscore (text, &letter);

  if (!mnemonic)
    gtk_button_set_child (GTK_BUTTON (button), make_label (text));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, plain, -1);
  return button;
}

TptToggleBar *
tpt_toggle_bar_new (const char *label, const TptToggleChoice *choices, gboolean mnemonics)
{
  TptToggleBar *self = g_object_new (TPT_TYPE_TOGGLE_BAR, NULL);

  self->choices = choices;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  for (guint i = 0; choices[i].code != NULL; i++)
    {
      GtkWidget *button = make_button (_(choices[i].label), mnemonics);

      gtk_widget_set_hexpand (button, TRUE);
      gtk_widget_set_parent (button, GTK_WIDGET (self));
      gtk_widget_set_focusable (button, i == 0);
      g_ptr_array_add (self->buttons, button);
      g_signal_connect_swapped (button, "toggled", G_CALLBACK (toggled_cb), self);
    }
  gtk_widget_set_hexpand (GTK_WIDGET (self), FALSE);
  return self;
}

const char *
tpt_toggle_bar_get (TptToggleBar *self)
{
  for (guint i = 0; i < self->buttons->len; i++)
    if (gtk_toggle_button_get_active (self->buttons->pdata[i]))
      return self->choices[i].code;
  return NULL;
}

void
tpt_toggle_bar_set (TptToggleBar *self, const char *code)
{
  for (guint i = 0; i < self->buttons->len; i++)
    if (code == NULL || g_str_equal (self->choices[i].code, code))
      gtk_toggle_button_set_active (self->buttons->pdata[i], code != NULL);
}

const char *
tpt_toggle_bar_find (TptToggleBar *self, gunichar letter)
{
  for (guint i = 0; self->choices[i].code != NULL; i++)
    {
      const char *own;
      g_autofree char *plain = strip_underscore (_(self->choices[i].label), &own);

      if (own != NULL && g_unichar_tolower (g_utf8_get_char (own)) == g_unichar_tolower (letter))
        return self->choices[i].code;
    }
  return NULL;
}

gboolean
tpt_toggle_bar_press (TptToggleBar *self, gunichar letter)
{
  const char *code = tpt_toggle_bar_find (self, letter);

  if (code == NULL)
    return FALSE;
  tpt_toggle_bar_set (self, g_strcmp0 (tpt_toggle_bar_get (self), code) == 0 ? NULL : code);
  return TRUE;
}

GtkToggleButton *
tpt_toggle_bar_get_button (TptToggleBar *self, const char *code)
{
  for (guint i = 0; i < self->buttons->len; i++)
    if (g_str_equal (self->choices[i].code, code))
      return self->buttons->pdata[i];
  return NULL;
}
