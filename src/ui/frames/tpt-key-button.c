#include "tpt-key-button.h"

struct _TptKeyButton {
  GtkButton parent_instance;

  GtkLabel *key;
  GtkLabel *text;
  GtkLabel *detail;
};

G_DEFINE_FINAL_TYPE (TptKeyButton, tpt_key_button, GTK_TYPE_BUTTON)

enum {
  PROP_0,
  PROP_KEY_NAME,
  PROP_TEXT,
  PROP_HELD,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

/* Read out as what it does; the key comes after, as its shortcut. */
static void
tell (TptKeyButton *self)
{
  const char *detail = gtk_label_get_label (self->detail);
  g_autofree char *label = detail[0] != '\0' ? g_strdup_printf ("%s, %s", gtk_label_get_label (self->text), detail)
                                             : g_strdup (gtk_label_get_label (self->text));

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_KEY_SHORTCUTS, gtk_label_get_label (self->key), -1);
}

static void
tpt_key_button_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TptKeyButton *self = TPT_KEY_BUTTON (object);

  switch (id)
    {
    case PROP_KEY_NAME:
      g_value_set_string (value, gtk_label_get_label (self->key));
      break;
    case PROP_TEXT:
      g_value_set_string (value, gtk_label_get_label (self->text));
      break;
    case PROP_HELD:
      g_value_set_boolean (value, gtk_widget_has_css_class (GTK_WIDGET (self), "held"));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_key_button_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  TptKeyButton *self = TPT_KEY_BUTTON (object);

  switch (id)
    {
    case PROP_KEY_NAME:
      tpt_key_button_set_key (self, g_value_get_string (value));
      break;
    case PROP_TEXT:
      tpt_key_button_set_text (self, g_value_get_string (value), NULL);
      break;
    case PROP_HELD:
      tpt_key_button_set_held (self, g_value_get_boolean (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_key_button_class_init (TptKeyButtonClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = tpt_key_button_get_property;
  object_class->set_property = tpt_key_button_set_property;
  properties[PROP_KEY_NAME] = g_param_spec_string ("key-name", NULL, NULL, NULL, flags);
  properties[PROP_TEXT] = g_param_spec_string ("text", NULL, NULL, NULL, flags);
  properties[PROP_HELD] = g_param_spec_boolean ("held", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static GtkLabel *
add_label (GtkWidget *box, const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (box), label);
  return GTK_LABEL (label);
}

static void
tpt_key_button_init (TptKeyButton *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 7);

  self->key = add_label (box, "key-cap");
  self->text = add_label (box, "key-text");
  self->detail = add_label (box, "key-detail");
  gtk_widget_set_valign (GTK_WIDGET (self->key), GTK_ALIGN_CENTER);
  gtk_label_set_ellipsize (self->text, PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (self->detail, PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (self->text, 0);
  gtk_label_set_xalign (self->detail, 1);
  gtk_widget_set_hexpand (GTK_WIDGET (self->detail), TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->detail), FALSE);
  gtk_button_set_child (GTK_BUTTON (self), box);
  gtk_widget_add_css_class (GTK_WIDGET (self), "key-button");
  gtk_widget_set_focus_on_click (GTK_WIDGET (self), FALSE);
}

TptKeyButton *
tpt_key_button_new (const char *key_name, const char *text)
{
  return g_object_new (TPT_TYPE_KEY_BUTTON, "key-name", key_name, "text", text, NULL);
}

void
tpt_key_button_set_text (TptKeyButton *self, const char *text, const char *detail)
{
  gtk_label_set_label (self->text, text != NULL ? text : "");
  gtk_label_set_label (self->detail, detail != NULL ? detail : "");
  gtk_widget_set_visible (GTK_WIDGET (self->detail), detail != NULL);
  tell (self);
}

void
tpt_key_button_set_key (TptKeyButton *self, const char *key_name)
{
  gtk_label_set_label (self->key, key_name != NULL ? key_name : "");
  gtk_widget_set_visible (GTK_WIDGET (self->key), key_name != NULL);
  tell (self);
}

void
tpt_key_button_set_held (TptKeyButton *self, gboolean held)
{
  if (held)
    gtk_widget_add_css_class (GTK_WIDGET (self), "held");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "held");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_PRESSED,
                               held ? GTK_ACCESSIBLE_TRISTATE_TRUE : GTK_ACCESSIBLE_TRISTATE_FALSE, -1);
}
