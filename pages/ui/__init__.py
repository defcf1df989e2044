"""What the pages share. Streamlit does not take files of a subfolder for pages."""
